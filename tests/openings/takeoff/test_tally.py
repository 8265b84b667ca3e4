"""The tally of counted geometries is what taking the house off says, without its lines."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from openings.takeoff.compute import take_off_house
from openings.takeoff.geometry import geometry_of
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import DEFAULT, Specification
from openings.takeoff.tally import Tally, tally_houses
from tests.openings.takeoff.cases import inch, opening, spec
from tests.openings.takeoff.test_properties import openings, specifications

TOO_SMALL = {"ro_width": inch("35.5")}
TOO_DEEP = {"pan": "membrane", "wall_depth": inch(24)}


def tally(rows: list[OpeningInput], specification: Specification = DEFAULT) -> Tally:
    """Return the tally of one house."""
    return tally_houses([Counter(map(geometry_of, rows))], specification)[0]


@st.composite
def houses(draw: st.DrawFn) -> list[OpeningInput]:
    """Any house: some of its openings repeated, some that can't be taken off."""
    kinds = draw(st.lists(openings(), min_size=1, max_size=4))
    kinds += draw(st.lists(st.sampled_from([opening(**TOO_SMALL), opening(**TOO_DEEP)]), max_size=2))
    rows = draw(st.lists(st.sampled_from(kinds), max_size=12))
    return [replace(row, mark=f"W{number}") for number, row in enumerate(rows)]


@settings(max_examples=60, deadline=None)
@given(houses(), specifications)
def test_tally_is_what_taking_the_house_off_says(
    rows: list[OpeningInput], specification: Specification
) -> None:
    takeoff = take_off_house(rows, specification)

    found = tally(rows, specification)

    assert found.demand == takeoff.demand
    assert found.openings == len(rows)
    assert found.refused == len(takeoff.problems)


def test_openings_that_cannot_be_taken_off_are_counted_and_left_out() -> None:
    found = tally([opening(), opening(**TOO_SMALL), opening(**TOO_SMALL), opening(**TOO_DEEP)])

    assert (found.openings, found.refused) == (4, 3)
    assert found.demand == tally([opening()]).demand


def test_contradictory_settings_refuse_every_opening() -> None:
    found = tally([opening(), opening()], spec(foam_thickness="1 9/16"))

    assert found == Tally({}, openings=2, refused=2)


def test_houses_are_tallied_in_the_given_order() -> None:
    one, other = Counter([geometry_of(opening())]), Counter([geometry_of(opening(48))])

    found = tally_houses([one, other], DEFAULT)

    assert [each.demand for each in found] == [tally([opening()]).demand, tally([opening(48)]).demand]
