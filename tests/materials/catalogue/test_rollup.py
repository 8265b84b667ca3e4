"""What a house comes to: strips by width, rolls, cartridges, totals."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.catalogue.first_fit import rolls_first_fit
from materials.catalogue.rollup import roll_up_house, rollup_as_json, shown
from openings.takeoff.compute import take_off_house
from projects.errors import BadValue
from projects.quantities.length import Length
from tests.openings.takeoff.cases import inch, opening, spec


def house(*openings: object, **texts: str) -> dict[str, object]:
    """Return the house's part of the answer."""
    takeoff = take_off_house(list(openings), spec(**texts))  # type: ignore[arg-type]
    assert not takeoff.problems
    return rollup_as_json(roll_up_house(takeoff.demand, takeoff.specification))


def rolls(*pieces: tuple[str | int, int], roll: int = 900, trim: str = "0") -> int:
    """Return the rolls for pieces of (inches, count)."""
    strips = {inch(length).nm: count for length, count in pieces}
    return rolls_first_fit(strips, roll=Length.inches(roll), trim=inch(trim))


def test_first_fit_takes_the_longest_first() -> None:
    # 20 x 77: 11 a roll (847, 53 left), 9 in the second (693, 207 left: 3 x 54 = 162);
    # 17 x 54 left: 16 a roll (864), 1 in the fourth
    assert rolls((77, 20), (54, 20)) == 4


def test_pieces_fill_a_roll_exactly() -> None:
    assert rolls((90, 10)) == 1
    assert rolls((90, 11)) == 2
    assert rolls((900, 1)) == 1


def test_trim_is_added_to_each_piece() -> None:
    assert rolls((90, 10), trim="1/16") == 2
    assert rolls((90, 9), trim="10") == 1  # 9 x 100


def test_later_pieces_go_back_to_the_first_roll_with_room() -> None:
    # 500 | 450 | then 400 fits roll 1 exactly, 450 roll 2
    assert rolls((500, 1), (450, 2), (400, 1)) == 2


def test_piece_longer_than_a_roll_is_refused() -> None:
    with pytest.raises(BadValue) as refused:
        rolls((901, 1))

    assert '901"' in refused.value.problem
    assert "longer roll" in refused.value.remedy


def test_no_pieces_take_no_roll() -> None:
    assert rolls() == 0


@settings(deadline=None)
@given(st.lists(st.tuples(st.integers(1, 900), st.integers(1, 9)), max_size=12))
def test_rolls_hold_all_and_are_never_twice_too_many(pieces: list[tuple[int, int]]) -> None:
    counted: dict[str | int, int] = {}
    for length, count in pieces:
        counted[length] = counted.get(length, 0) + count

    answer = rolls(*counted.items())

    total = sum(length * count for length, count in counted.items())
    assert answer >= -(-total // 900)
    assert answer <= 1 or answer * 900 < 2 * total  # any two rolls of a first fit hold more than one roll
    longest_first = sorted((length for length, count in counted.items() for _ in range(count)), reverse=True)
    assert answer == one_by_one(longest_first)  # type: ignore[arg-type]


def one_by_one(lengths: list[int]) -> int:
    """Return the rolls that placing each piece by itself takes."""
    rooms: list[int] = []
    for length in lengths:
        for place, room in enumerate(rooms):
            if room >= length:
                rooms[place] -= length
                break
        else:
            rooms.append(900 - length)
    return len(rooms)


def test_rolls_are_pooled_over_the_house() -> None:
    openings = [opening(mark=f"W{number}") for number in range(3)]

    # 3 x 264 = 792 <= 900
    assert house(*openings)["rolls"] == {"9": {"75 ft": 1}, "12": {"75 ft": 1}}


def test_each_width_has_its_own_rolls_and_strips() -> None:
    found = house(opening(), sill_strip_width="6", head_strip_width="4.5", roll_length="50 ft")

    # jamb strips 60.5 + 4 + 5.5 = 70 on 9 in; sill strip 54.5 on 6; head strip 54.5 on 4.5; pan 48.5 on 12
    assert found["strips"] == {
        "4.5": {"length_in": 54.5, "count": 1},
        "6": {"length_in": 54.5, "count": 1},
        "9": {"length_in": 140, "count": 2},
        "12": {"length_in": 48.5, "count": 1},
    }
    assert found["rolls"] == {
        "4.5": {"50 ft": 1}, "6": {"50 ft": 1}, "9": {"50 ft": 1}, "12": {"50 ft": 1},
    }  # fmt: skip


def test_strips_are_net_of_trim() -> None:
    without, with_trim = house(opening()), house(opening(), strip_trim="12")

    assert with_trim["strips"] == without["strips"]
    assert with_trim["strip_area_in2"] == without["strip_area_in2"]


def test_flap_tape_is_not_among_the_strips() -> None:
    assert set(house(opening())["strips"]) == {"9", "12"}  # type: ignore[call-overload]
    assert set(house(opening(), tape_width="6")["strips"]) == {"9", "12"}  # type: ignore[call-overload]


@pytest.mark.parametrize(
    ("texts", "cartridges"),
    [
        ({}, 3),  # 36.5210 x 1.15 / 18.2273 = 2.304
        ({"sealant_waste": "0"}, 3),  # 2.004
        ({"sealant_waste": "0", "back_bead": "3/8"}, 2),  # 186 x 0.110447 / 18.2273 = 1.127
        ({"cartridge_floz": "20"}, 2),  # 41.999 / 36.0938 = 1.164
    ],
)
def test_cartridges_are_rounded_up_with_the_waste(texts: dict[str, str], cartridges: int) -> None:
    assert house(opening(), **texts)["cartridges"] == cartridges


def test_screw_length_is_empty_where_none_reaches() -> None:
    found = house(opening(), foam_thickness="1 1/4")

    assert found["screw_length_in"] is None
    assert found["fasteners"] == 20


def test_rigid_pans_are_counted_by_themselves() -> None:
    found = house(opening(pan="rigid"), opening(mark="W2", width=48, pan="rigid"))

    assert found["rigid_pans"] == 2
    assert found["pan_corners"] == 0


def test_empty_house_needs_nothing() -> None:
    found = house()

    assert found["strips"] == found["rolls"] == {}
    assert found["cartridges"] == found["fasteners"] == found["shims"] == 0
    assert found["screw_length_in"] is None


@pytest.mark.parametrize(
    ("number", "text"),
    [("9", "9"), ("12", "12"), ("4.5", "4.5"), ("75", "75"), ("20/3", "6.6667"), ("100", "100")],
)
def test_keys_are_plain_numbers(number: str, text: str) -> None:
    assert shown(Fraction(number)) == text
