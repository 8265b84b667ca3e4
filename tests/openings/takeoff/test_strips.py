"""How long strips and tapes are; W = 36 1/2 and H = 60 1/2 unless said otherwise."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

import pytest

from projects.errors import BadValue
from projects.quantities.length import Length
from tests.openings.takeoff.cases import inch, inches, lines, opening, taken


def test_sill_strip_reaches_the_outer_edges_of_the_jamb_strips() -> None:
    assert inches("sill strip") == {"sill": Fraction("54.5")}  # 36.5 + 2 x 9
    assert inches("sill strip", jamb_strip_width="6") == {"sill": Fraction("48.5")}  # 36.5 + 2 x 6
    assert inches("sill strip", sill_strip_width="12") == {"sill": Fraction("54.5")}


def test_wrap_into_the_opening_shortens_sill_and_head_strip() -> None:
    # 36.5 + 2 x (9 - 1.5) = 51.5
    assert inches("sill strip", jamb_wrap="1 1/2") == {"sill": Fraction("51.5")}
    assert inches("head strip", jamb_wrap="1 1/2") == {"head": Fraction("51.5")}
    assert inches("jamb strip", jamb_wrap="1 1/2")["left jamb"] == Fraction("77.5")


def test_jamb_strip_stops_half_an_inch_short_of_both_strips() -> None:
    # 60.5 + (12 - 1/2) + (6 - 1/2) = 77.5; with 9 and 9: 60.5 + 17 = 77.5; with 4 and 4: 67.5
    assert inches("jamb strip", head_strip_width="12", sill_strip_width="6")["left jamb"] == Fraction("77.5")
    assert inches("jamb strip")["right jamb"] == Fraction("77.5")
    assert inches("jamb strip", strip_width="4")["right jamb"] == Fraction("67.5")


def test_jamb_strip_is_as_long_without_a_head_strip() -> None:
    assert inches("jamb strip", head_strip="no")["left jamb"] == Fraction("77.5")


def test_head_strip_grows_by_the_extra_at_both_ends() -> None:
    assert inches("head strip") == {"head": Fraction("54.5")}
    assert inches("head strip", head_extra="1") == {"head": Fraction("56.5")}


def test_head_strip_past_the_jamb_strips_is_graded_from_memory() -> None:
    assert lines("head strip")["head"].grade == "P"
    assert lines("head strip", head_extra="1")["head"].grade == "M"


def test_strips_have_the_widths_of_their_settings() -> None:
    widths = {"sill_strip_width": "4", "jamb_strip_width": "6", "head_strip_width": "12"}

    assert lines("sill strip", **widths)["sill"].width_nm == inch(4).nm
    assert lines("jamb strip", **widths)["left jamb"].width_nm == inch(6).nm
    assert lines("head strip", **widths)["head"].width_nm == inch(12).nm


@pytest.mark.parametrize("pan", ["membrane", "stretch"])
def test_pan_goes_up_both_jambs(pan: str) -> None:
    assert inches("pan", opening(pan=pan)) == {"sill": Fraction("48.5")}  # 36.5 + 2 x 6
    assert inches("pan", opening(pan=pan), pan_upturn="4") == {"sill": Fraction("44.5")}


@pytest.mark.parametrize(
    ("texts", "width"),
    [
        ({}, 12),  # 5.9375 + 0.75 + 3 = 9.6875
        ({"wall_depth": "5.25"}, 9),  # 5.25 + 0.75 + 3 = 9 exactly
        ({"wall_depth": "5 17/64"}, 12),  # one 64th more
        ({"pan_turn_down": "2"}, 9),  # 5.9375 + 0.75 + 2 = 8.6875
        ({"pan_back_dam": "0", "pan_turn_down": "0", "wall_depth": "4"}, 4),
        ({"stock_widths": "9,18,12,10"}, 10),
    ],
)
def test_pan_takes_the_smallest_stock_width_that_covers(texts: dict[str, str], width: int) -> None:
    assert lines("pan", **texts)["sill"].width_nm == inch(width).nm


def test_row_gives_its_own_wall_depth() -> None:
    assert lines("pan", opening(wall_depth=inch("5.25")))["sill"].width_nm == inch(9).nm


def test_pan_wider_than_any_stock_proposes_a_rigid_one() -> None:
    with pytest.raises(BadValue) as refused:
        taken(opening(wall_depth=inch(9)))  # 9 + 0.75 + 3 = 12.75 > 12

    assert "12 3/4" in refused.value.problem
    assert "rigid" in refused.value.remedy


def test_rigid_pan_is_as_wide_as_the_rough_opening_and_as_deep_as_the_wall() -> None:
    pan = lines("pan", opening(pan="rigid", wall_depth=inch(9)))["sill"]

    assert (pan.kind, pan.count) == ("piece", 1)
    assert (pan.width_nm, pan.depth_nm) == (inch("36.5").nm, inch(9).nm)


@pytest.mark.parametrize(
    ("texts", "side"),
    [({}, 9), ({"head_extra": "1"}, 10), ({"head_strip": "no"}, 9), ({"head_strip_width": "6"}, 6)],
)
def test_flap_tape_covers_its_diagonal_cut_and_six_inches(texts: dict[str, str], side: int) -> None:
    tape = lines("flap tape", **texts)["head"]

    assert tape.count == 2
    assert Length(tape.length_nm).in_inches == pytest.approx(sqrt(2) * side + 6, abs=1e-6)
    assert tape.width_nm == inch(3).nm
    assert lines("flap tape", tape_width="4")["head"].width_nm == inch(4).nm


def test_rough_opening_of_its_own_size_decides_the_strips() -> None:
    which = opening(ro_width=inch(37), ro_height=inch(61))

    assert inches("sill strip", which) == {"sill": Fraction(55)}
    assert inches("jamb strip", which)["left jamb"] == Fraction(78)
    assert inches("pan", which) == {"sill": Fraction(49)}
