"""How many screws, where, and how long."""

from __future__ import annotations

from fractions import Fraction

import pytest

from projects.quantities.length import Length
from tests.openings.takeoff.cases import JAMBS, inch, lines, notices, opening, taken


def positions(zone: str, which: object = None, **texts: str) -> list[Fraction]:
    """Return the positions of one side in inches."""
    line = lines("fasteners", which, **texts)[zone]  # type: ignore[arg-type]
    return [round(Length(position).exact_inches, 6) for position in line.positions_nm]


def test_spaces_are_equal_and_at_most_the_target() -> None:
    # 36 - 6 = 30; ceil(30 / 12) = 3; 10 each
    assert positions("sill") == [3, 13, 23, 33]
    # 27 - 6 = 21; ceil(1.75) = 2; 10 1/2 each
    assert positions("head", opening(width=27)) == [3, Fraction("13.5"), 24]
    # 30 - 6 = 24 = 2 x 12 exactly: two spaces
    assert positions("head", opening(width=30)) == [3, 15, 27]


def test_target_and_corner_distance_are_settings() -> None:
    # 36 - 4 = 32; ceil(32 / 16) = 2; 16 each
    assert positions("sill", fastener_target="16", fastener_corner="2") == [2, 18, 34]


def test_target_never_exceeds_the_maximum() -> None:
    # target min(12, 10) = 10; 30 / 10 = 3
    assert positions("sill", fastener_max="10") == [3, 13, 23, 33]
    # min(20, 18) = 18; ceil(30 / 18) = 2; 15 each
    assert positions("sill", fastener_target="20") == [3, 18, 33]


def test_makers_maximum_overrules_target_and_minimum() -> None:
    which = opening(fastener_max=inch(6))

    # target 6; 30 / 6 = 5 spaces
    assert positions("sill", which) == [3, 9, 15, 21, 27, 33]
    assert not any("below the" in text for text in notices(taken(which)))


def test_makers_larger_maximum_changes_no_spacing() -> None:
    which = opening(fastener_max=inch(24))

    assert positions("sill", which) == positions("sill")


def test_makers_corner_distance_leaves_target_and_minimum() -> None:
    which = opening(width=21, fastener_corner=inch(4))

    # 21 - 8 = 13; ceil(13 / 12) = 2; 6 1/2 each, below the minimum of 9
    assert positions("sill", which) == [4, Fraction("10.5"), 17]
    assert any(text.startswith('sill: fasteners 6 1/2" apart') for text in notices(taken(which)))


def test_spacing_below_the_minimum_drops_no_screw() -> None:
    which = opening(width=19)

    # 19 - 6 = 13; two spaces of 6 1/2
    assert positions("head", which) == [3, Fraction("9.5"), 16]
    texts = notices(taken(which))
    assert any(text.startswith("head: fasteners") for text in texts)
    assert any(text.startswith("sill: fasteners") for text in texts)
    assert not any(text.startswith("left jamb") for text in texts)


@pytest.mark.parametrize(
    ("width", "expected"), [("8", [4]), ("8.9375", [Fraction("4.46875")]), ("9", [3, 6])]
)
def test_short_span_has_one_screw_at_the_middle(width: str, expected: list[Fraction]) -> None:
    # 8 - 6 = 2 < 3; 9 - 6 = 3: not below 3, one space of 3
    assert positions("sill", opening(width=width)) == expected


def test_single_screw_has_no_spacing_and_is_said() -> None:
    which = opening(width=8)

    assert lines("fasteners", which)["sill"].spacing_nm is None
    assert any(text.startswith("sill: one fastener at the middle") for text in notices(taken(which)))


def test_corner_distance_beyond_the_middle_still_leaves_one_screw() -> None:
    assert positions("sill", opening(width=12, fastener_corner=inch(9))) == [6]


def test_head_fin_is_left_alone_where_the_maker_says_so() -> None:
    assert set(lines("fasteners", head_fasteners="no")) == {*JAMBS, "sill"}
    assert set(lines("fasteners", opening(head_fasteners="no"))) == {*JAMBS, "sill"}


def test_loose_head_screws_are_the_same_screws_and_a_notice() -> None:
    which = opening(head_fasteners="loose")

    assert positions("head", which) == [3, 13, 23, 33]
    assert any("loose" in text for text in notices(taken(which)))


def test_offset_of_the_beads_moves_no_screw() -> None:
    assert positions("sill", bead_offset="1") == [3, 13, 23, 33]


@pytest.mark.parametrize(
    ("texts", "length"),
    [
        ({}, "2"),  # 1/8 + 1/16 + 7/16 + 1 1/4 = 1.875
        ({"foam_thickness": "1"}, "3"),  # 2.875
        ({"foam_thickness": "1/2"}, "2.5"),  # 2.375
        ({"sheathing": "9/16"}, "2"),  # 2 exactly
        ({"sheathing": "37/64"}, "2.5"),  # one 64th more
        ({"sheathing": "0"}, "1.5"),  # 1.4375
        ({"screw_lengths": "3,2 1/4"}, "2.25"),
    ],
)
def test_screw_is_the_next_stock_length_that_reaches(texts: dict[str, str], length: str) -> None:
    assert lines("fasteners", **texts)["sill"].screw_nm == inch(length).nm


def test_no_screw_is_named_where_none_is_long_enough() -> None:
    assert lines("fasteners", foam_thickness="1 1/4")["sill"].screw_nm is None  # 3.125 > 3
