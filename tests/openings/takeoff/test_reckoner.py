"""What was reckoned once is remembered, and forgetting changes no answer."""

from __future__ import annotations

from openings.takeoff import reckoner
from openings.takeoff.compute import take_off_house
from openings.takeoff.geometry import geometry_of
from openings.takeoff.reckoner import Reckoner, reckoner_for
from openings.takeoff.specification import DEFAULT
from tests.openings.takeoff.cases import inch, opening, spec


def test_same_geometry_shares_its_lines_whatever_mark_place_or_weight() -> None:
    openings = [opening(mark="W1"), opening(mark="W2", offset=inch(80), note="stair", flags=("stair",))]

    first, second = take_off_house(openings, DEFAULT).openings

    assert first.lines is second.lines


def test_specifications_are_kept_apart() -> None:
    assert reckoner_for(DEFAULT) is reckoner_for(spec())
    assert reckoner_for(DEFAULT) is not reckoner_for(spec(strip_width="6"))


def test_forgetting_changes_no_answer(monkeypatch) -> None:
    monkeypatch.setattr(reckoner, "MOST_DEMANDS_KEPT", 2)
    openings = [opening(mark=f"W{width}", width=width) for width in (20, 24, 28, 32, 20, 24)]
    small = Reckoner(DEFAULT)

    answers = [(small.lines(geometry_of(row)), small.demand(geometry_of(row))) for row in openings]

    fresh = [Reckoner(DEFAULT) for _ in openings]
    assert answers == [
        (each.lines(geometry_of(row)), each.demand(geometry_of(row)))
        for each, row in zip(fresh, openings, strict=True)
    ]


def test_methods_may_be_given_instead_of_read() -> None:
    from openings.methods.load import load_methods

    methods = {"X": load_methods()["A1"]}
    takeoff = take_off_house([opening(method="X")], DEFAULT, methods)

    assert not takeoff.problems
    assert any(line.part == "flap tape" for line in takeoff.openings[0].lines)
