"""The demo's files as the tests look at them: houses with their openings read, days and weather as rows."""

from __future__ import annotations

import csv
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from openings.schedule.read import ScheduleReading, read_schedule
from openings.takeoff.opening import OpeningInput
from openings.takeoff.settings import apply_settings
from openings.takeoff.specification import DEFAULT, Specification
from projects.models import UNPLACED
from projects.quantities.length import Length
from projects.quantities.text import parse_length

FOLDER = Path(__file__).parent.parent.parent / "config" / "demo"


@dataclass(frozen=True)
class Face:
    """An elevation of a demo house with the openings that its schedule puts there."""

    house: str
    name: str
    width: Length
    height: Length
    access: str
    missing: tuple[str, ...]
    openings: tuple[OpeningInput, ...]


@dataclass(frozen=True)
class DemoHouse:
    """A demo house as its files describe it."""

    code: str
    row: dict[str, Any]
    specification: Specification
    reading: ScheduleReading
    faces: tuple[Face, ...]

    @property
    def openings(self) -> tuple[OpeningInput, ...]:
        return tuple(self.reading.openings)


@cache
def toml(name: str) -> dict[str, Any]:
    return tomllib.loads((FOLDER / name).read_text(encoding="utf-8"))


def rows(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def read(schedule: str, *, builder: str, specification: Specification) -> ScheduleReading:
    firm = next(firm for firm in toml("projects.toml")["builders"] if firm["code"] == builder)
    path = FOLDER / "schedules" / schedule
    return read_schedule(
        path.read_bytes(), filename=path.name, specification=specification, match=firm["match"]
    )


def specification_of(project: str) -> Specification:
    row = next(row for row in toml("projects.toml")["projects"] if row["code"] == project)
    return apply_settings(DEFAULT, row["specification"]["settings"])


@cache
def houses() -> dict[str, DemoHouse]:
    return {
        row["code"]: _house(project, row)
        for project in toml("projects.toml")["projects"]
        for row in project["houses"]
    }


def faces() -> list[Face]:
    return [face for house in houses().values() for face in house.faces]


def face_of(house: str, name: str) -> Face:
    return next(face for face in faces() if (face.house, face.name) == (house, name))


def _house(project: dict[str, Any], row: dict[str, Any]) -> DemoHouse:
    specification = specification_of(project["code"])
    reading = read(row["schedule"], builder=project["builder"], specification=specification)
    placed = tuple(
        Face(
            house=row["code"],
            name=face["name"],
            width=parse_length(face["width"]),
            height=parse_length(face["height"]),
            access=face["access"],
            missing=tuple(face["missing"]),
            openings=tuple(o for o in reading.openings if o.elevation == face["name"]),
        )
        for face in row["elevations"]
    )
    return DemoHouse(row["code"], row, specification, reading, placed)


def unplaced(house: DemoHouse) -> list[str]:
    return [opening.mark for opening in house.openings if opening.elevation == UNPLACED]
