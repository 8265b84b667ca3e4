"""The demo's windows: accepted at the houses that are worked on, damaged or to come at later ones."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from config.demo.files import photo
from config.demo.people import Cast
from openings import services
from openings.selectors import live_openings
from openings.selectors.windows import WindowShown, windows_shown
from projects.models import House

TO_COME, HERE = "to come", "here"


def come(cast: Cast, told: Mapping[str, Any], houses: Mapping[str, House]) -> None:
    """Let the windows of all houses come that `told` (`projects.toml`) has no later revision for."""
    revised = {row["house"] for row in told["revisions"] if row.get("after_issue")}
    _count(cast, told, [house for code, house in houses.items() if code not in revised])


def come_as_revised(cast: Cast, told: Mapping[str, Any], houses: Mapping[str, House]) -> None:
    """Let the windows of the other houses come: in the sizes of the builder's last revision."""
    revised = {row["house"] for row in told["revisions"] if row.get("after_issue")}
    _count(cast, told, [house for code, house in houses.items() if code in revised])


def _count(cast: Cast, told: Mapping[str, Any], houses: Sequence[House]) -> None:
    rows = {row["code"]: row for project in told["projects"] for row in project["houses"]}
    for house in houses:
        states = {face["name"]: face.get("windows", "") for face in rows[house.code]["elevations"]}
        shown = windows_shown(cast.company, live_openings(cast.company).filter(house=house))
        by_face = [(each, states.get(each.opening.elevation.name, TO_COME)) for each in shown]
        came = {each.opening.pk: each.scheduled for each, state in by_face if state != TO_COME}
        if not came:
            continue
        services.count_windows(by=cast.foreman, house=house, sizes=came, key=f"demo-came-{house.code}")
        broken = [
            _damaged(cast, house, row, shown) for row in told["damaged_windows"] if row["house"] == house.code
        ]
        good = [each.opening.pk for each, state in by_face if not state and each.opening.pk not in broken]
        services.accept_windows(by=cast.foreman, house=house, openings=good, key=f"demo-good-{house.code}")


def _damaged(cast: Cast, house: House, row: Mapping[str, str], shown: Sequence[WindowShown]) -> int:
    """Report the damage of the elevation's first window; return its opening."""
    opening = next(each.opening for each in shown if each.opening.elevation.name == row["elevation"])
    services.report_damage(
        by=cast.foreman,
        opening=opening,
        what=row["what"],
        photos=[services.SentPhoto(row["photo"], photo(row["photo"]))],
        key=f"demo-damaged-{house.code}",
    )
    return opening.pk
