"""Rough openings too close to each other or to the wall's left end."""

from __future__ import annotations

from typing import Any

import pytest

from openings.takeoff.compute import take_off_house
from openings.takeoff.opening import OpeningInput
from tests.openings.takeoff.cases import inch, notices, opening, spec

CLOSE = "from RO to RO"


def placed(mark: str, offset: str, **fields: Any) -> OpeningInput:
    """Return an opening with its RO, 36 1/2 wide, `offset` from the left end."""
    return opening(mark=mark, offset=inch(offset), **fields)


def crowded(*openings: OpeningInput, **texts: str) -> list[list[str]]:
    """Return per opening the notices about its neighbours."""
    takeoff = take_off_house(openings, spec(**texts))
    return [[text for text in notices(each) if CLOSE in text] for each in takeoff.openings]


def test_close_neighbours_are_said_on_both_with_distance_and_need() -> None:
    # first RO ends at 30 + 36.5 = 66.5; second starts at 80: 13 1/2 < 2 x 9
    first, second = crowded(placed("W1", "30"), placed("W2", "80"))

    assert len(first) == len(second) == 1
    assert "W2" in first[0]
    assert "W1" in second[0]
    for text in (*first, *second):
        assert '13 1/2"' in text
        assert '18"' in text
        assert "one combined opening" in text


@pytest.mark.parametrize(("offset", "close"), [("84.4375", True), ("84.5", False), ("90", False)])
def test_two_faces_of_jamb_strips_fit_exactly(offset: str, close: bool) -> None:
    # 66.5 + 18 = 84.5
    found = crowded(placed("W1", "30"), placed("W2", offset))

    assert [bool(texts) for texts in found] == [close, close]


def test_wrap_into_the_opening_needs_less_wall() -> None:
    # faces 9 - 2 = 7: 14 needed, 66.5 + 14 = 80.5
    assert crowded(placed("W1", "30"), placed("W2", "80.5"), jamb_wrap="2") == [[], []]
    assert all(crowded(placed("W1", "30"), placed("W2", "80.4375"), jamb_wrap="2"))


def test_order_of_the_rows_does_not_matter() -> None:
    assert all(crowded(placed("W2", "80"), placed("W1", "30")))


def test_openings_above_each_other_are_no_neighbours() -> None:
    low = placed("W1", "30", sill_height=inch(30))  # RO from 30 to 90 1/2
    high = placed("W2", "80", sill_height=inch("90.5"))
    reaching = placed("W3", "80", sill_height=inch("90.4375"))

    assert crowded(low, high) == [[], []]
    assert all(crowded(low, reaching))


def test_heights_not_given_count_as_overlapping() -> None:
    assert all(crowded(placed("W1", "30", sill_height=inch(30)), placed("W2", "80")))


def test_other_faces_and_unplaced_openings_are_no_neighbours() -> None:
    assert crowded(placed("W1", "30"), placed("W2", "80", elevation="Rear")) == [[], []]
    assert crowded(placed("W1", "30"), opening(mark="W2")) == [[], []]


def test_opening_between_two_is_too_close_to_both() -> None:
    first, middle, last = crowded(placed("W1", "30"), placed("W2", "75"), placed("W3", "120"))

    assert (len(first), len(middle), len(last)) == (1, 2, 1)


def test_wide_opening_reaches_past_the_one_beside_it() -> None:
    # W1 from 30 to 130.5; W2 above it from 40; W3 beside it at 140, 9 1/2 away
    wide = placed("W1", "30", width=100, sill_height=inch(10))
    above = placed("W2", "40", sill_height=inch(100))
    beside = placed("W3", "140", sill_height=inch(10))

    found = crowded(wide, above, beside)

    assert [len(texts) for texts in found] == [1, 0, 1]
    assert "W3" in found[0][0]


def test_overlapping_rough_openings_are_said_as_such() -> None:
    takeoff = take_off_house([placed("W1", "30"), placed("W2", "50")], spec())

    # 66.5 - 50 = 16 1/2
    assert any('overlaps that of W2 by 16 1/2"' in text for text in notices(takeoff.openings[0]))


@pytest.mark.parametrize(("offset", "close"), [("8.9375", True), ("9", False)])
def test_left_end_of_the_wall_leaves_room_for_one_strip(offset: str, close: bool) -> None:
    takeoff = take_off_house([placed("W1", offset), placed("W2", "200")], spec())

    texts = [text for text in notices(takeoff.openings[0]) if "left end" in text]
    assert bool(texts) == close
    if close:
        assert '8 15/16"' in texts[0]
        assert '9"' in texts[0]
