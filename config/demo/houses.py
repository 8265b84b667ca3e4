"""The demo's projects and houses: specifications, header matches, schedules, faces ready or not."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from config.demo.files import schedule
from config.demo.people import Cast
from openings import services as openings
from projects import services
from projects.models import House, Project
from projects.selectors import elevations_of


def set_up(cast: Cast, told: Mapping[str, Any]) -> dict[str, House]:
    """Return the houses of `told` (`projects.toml`) by code, each with its openings."""
    builders = {builder["code"]: builder for builder in told["builders"]}
    for builder in builders.values():
        services.remember_headers(by=cast.manager, builder=builder["name"], mapping=builder["match"])
    houses: dict[str, House] = {}
    for row in told["projects"]:
        project = _project(cast, row, builder=builders[row["builder"]]["name"])
        for house in row["houses"]:
            houses[house["code"]] = _house(cast, project, house)
    return houses


def take_over(cast: Cast, house: House, name: str) -> None:
    """Take a schedule file over into the house, as the office does it in the browser."""
    sent = openings.start_import(
        by=cast.manager, house=house, file_name=name.rpartition("/")[2], content=schedule(name)
    )
    openings.confirm_import(by=cast.manager, schedule_import=sent)


def _project(cast: Cast, row: Mapping[str, Any], *, builder: str) -> Project:
    project = services.create_project(
        by=cast.manager,
        code=row["code"],
        name=row["name"],
        builder=builder,
        delivery_place=row["delivery_place"],
        weather_place=row["weather_place"],
    )
    told = row["specification"]
    openings.set_specification(
        by=cast.manager,
        project=project,
        settings=told["settings"],
        sources=told["sources"],
        note=told["note"],
    )
    return project


def _house(cast: Cast, project: Project, row: Mapping[str, Any]) -> House:
    house = services.create_house(
        by=cast.manager,
        project=project,
        code=row["code"],
        name=row["name"],
        plan_name=row["plan"],
        pre_1978=row["pre_1978"],
    )
    take_over(cast, house, row["schedule"])
    _ready_faces(cast, house, row["elevations"])
    return house


def _ready_faces(cast: Cast, house: House, told: Sequence[Mapping[str, Any]]) -> None:
    by_name = {face.name: face for face in elevations_of(house)}
    for row in told:
        face = by_name[row["name"]]
        services.edit_elevation(
            by=cast.manager, elevation=face, version=None, name=face.name, access=row["access"]
        )
        ready = [tick for tick in services.READINESS if tick not in row["missing"]]
        services.tick_readiness(by=cast.manager, elevation=face, ready=ready)
    services.walk_in_order(by=cast.manager, house=house, elevations=[by_name[row["name"]] for row in told])
