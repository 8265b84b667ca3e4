"""What houses come to: demands that are summed before anything is rounded up, kept and read back."""

from __future__ import annotations

import json

from hypothesis import given, settings

from materials.catalogue.kept import plain_totals, totals_of_plain
from materials.catalogue.rollup import pack_house, roll_up_house
from materials.catalogue.totals import Totals, hashes_of, sum_demands, total_up
from openings.takeoff.compute import take_off_house
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import DEFAULT, Specification
from openings.takeoff.tally import Tally
from projects.quantities.length import Length
from tests.openings.takeoff.cases import opening, spec
from tests.openings.takeoff.test_properties import openings, specifications

NINE, TWELVE = Length.inches(9).nm, Length.inches(12).nm


def totals(*rows: OpeningInput, specification: Specification = DEFAULT) -> Totals:
    """Return what a house of these openings comes to."""
    takeoff = take_off_house(rows, specification)
    return total_up(Tally(takeoff.demand, len(rows), len(takeoff.problems)), specification)


def test_packs_are_those_of_the_full_roll_up() -> None:
    house = totals(opening(), opening(corners="open", mulls=1))

    rollup = roll_up_house(house.demand, DEFAULT)
    # 2 x 264 in of 9 in, 2 x 48.5 of 12 in: a roll each; 2 x 2.304 tubes; 2 x 20 screws; 4 + 2 patches
    assert house.packs is not None
    assert house.packs.rolls == {NINE: 1, TWELVE: 1}
    assert (house.packs.cartridges, house.packs.fasteners, house.packs.corner_patches) == (5, 40, 6)
    assert [strips.rolls for strips in rollup.strips] == [1, 1]
    assert (rollup.cartridges, rollup.fasteners, rollup.corner_patches) == (5, 40, 6)


def test_houses_together_are_rounded_up_once() -> None:
    house = totals(opening())

    together = pack_house(sum_demands([house, house]), DEFAULT)

    # one: 264 in of 900 and 2.304 tubes; two: 528 in of 900 and 4.608 tubes
    assert house.packs is not None
    assert house.packs.rolls == together.rolls == {NINE: 1, TWELVE: 1}
    assert (house.packs.cartridges, together.cartridges) == (3, 5)


def test_no_houses_need_nothing() -> None:
    assert sum_demands([]) == {}


def test_strip_longer_than_a_roll_leaves_the_demand_alone() -> None:
    # the jamb strips are 60.5 + 8.5 + 8.5 = 77.5 in
    found = totals(opening(), specification=spec(roll_length="77"))

    assert found.packs is None
    assert found.demand == totals(opening()).demand
    assert totals(opening(), specification=spec(roll_length="77.5")).packs is not None


@settings(max_examples=50, deadline=None)
@given(openings(), specifications)
def test_totals_are_read_back_as_they_were_kept(row: OpeningInput, specification: Specification) -> None:
    kept = totals(row, specification=specification)
    without_packs = Totals(kept.openings, kept.refused, kept.demand, None)

    assert totals_of_plain(json.loads(json.dumps(plain_totals(kept)))) == kept
    assert totals_of_plain(json.loads(json.dumps(plain_totals(without_packs)))) == without_packs


def test_hash_differs_with_openings_and_with_settings() -> None:
    hashes = {
        *hashes_of({"one": "3:3", "two": "3:4"}, DEFAULT).values(),
        *hashes_of({"one": "3:3", "two": "3:4"}, spec(roll_length="50 ft")).values(),
    }

    assert len(hashes) == 4
    assert hashes_of({"one": "3:3"}, DEFAULT)["one"] in hashes
