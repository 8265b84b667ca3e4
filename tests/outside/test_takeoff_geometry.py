"""Strips, fasteners, foam and tolerances of the rough opening against published and derived values."""

from __future__ import annotations

import pytest

from materials.catalogue.first_fit import rolls_first_fit
from openings.takeoff.rules.inside import joint_section
from openings.takeoff.tolerance import diagonal_of, diagonal_tolerance, level_tolerance, twist_tolerance
from projects.quantities.length import Length
from projects.quantities.volume import Volume
from tests.openings.takeoff.cases import inch, inches, lines, opening, spec

ROUGH_36_BY_60 = opening(width="35.5", height="59.5")  # RO 36 x 60


def test_sill_and_head_strip_of_the_body_standard():
    # T9 (P): AAMA 2400-10, 5.7.3.2 and Note 3: opening width + 2 x jamb strip width = 36 + 18
    assert inches("sill strip", ROUGH_36_BY_60) == {"sill": 54}
    assert inches("head strip", ROUGH_36_BY_60) == {"head": 54}


def test_head_strip_one_inch_past_each_jamb_strip():
    # M: ASTM E2112 from memory: 10 in past the RO with 9-in stock: 36 + 2 x 10
    assert inches("head strip", ROUGH_36_BY_60, head_extra="1") == {"head": 56}


def test_jamb_strip_is_seventeen_longer_than_the_opening():
    # T10 (M): AAMA 2400 / ASTM E2112 from memory: 8 1/2 above, 8 1/2 below with 9-in stock
    assert inches("jamb strip", ROUGH_36_BY_60) == {"left jamb": 77, "right jamb": 77}


def test_pan_is_twelve_longer_than_the_opening():
    # T11 (P): trade-journal photo guide "Flashing a Window: New Construction"
    assert inches("pan", ROUGH_36_BY_60) == {"sill": 48}


def test_default_strips_are_at_least_as_wide_as_published():
    # P: door-and-window installer association manual, penetration flashing page: 9 in / 230 mm
    for width in (spec().sill_strip_width, spec().jamb_strip_width, spec().head_strip_width):
        assert width >= inch(9)


def test_end_dam_is_higher_than_wind_lifts_water():
    # T12 (P): Ontario Building Code, appendix note A-9.27.3.8.(5): 10 Pa lifts 1 mm, 200 Pa at least 20 mm
    assert spec().pan_upturn >= Length.mm(20)


def test_flange_goes_through_no_more_foam_than_published():
    # P: industry foam-sheathing technical page: up to 1 1/2 in with longer fasteners; 1 in takes 3-in screws
    assert lines("fasteners", foam_thickness="1")["sill"].screw_nm == inch(3).nm


@pytest.mark.parametrize(("side", "corner", "target", "count"), [(48, 3, 16, 4), (36, 3, 12, 4)])
def test_fasteners_of_a_side(side, corner, target, count):
    # T51 (D; the spacing itself is C): n = ceil((L - 2e) / s) + 1
    texts = {"fastener_corner": f"{corner}", "fastener_target": f"{target}"}

    assert lines("fasteners", opening(width=side), **texts)["sill"].count == count


def test_foam_on_four_equal_sides():
    # T52 (D): 36 x 48 unit, 3/8 gap, 1 1/2 deep all round: 94.5 in3 = 0.0547 ft3, corners ignored
    which = opening(width=36, height=48, ro_width=inch("36.75"), ro_height=inch("48.75"))

    found = lines("foam", which, air_seal_depth="1 1/2", air_seal_sill_depth="1 1/2")

    total = sum(line.volume_pl for line in found.values())
    assert Volume(total).in_cubic_inches == pytest.approx(94.5, abs=1e-6)
    assert Volume(total).in_cubic_inches / 1728 == pytest.approx(0.0547, abs=5e-5)


@pytest.mark.parametrize(("width", "depth"), [("3/4", "3/8"), ("5/4", "1/2"), ("1/4", "1/4")])
def test_joint_is_half_as_deep_as_wide_within_limits(width, depth):
    # T8 (P): architectural detailing handbook page
    section_nm2 = joint_section(2 * inch(width).nm)

    assert section_nm2 == inch(width).nm * inch(depth).nm


def test_diagonal_of_a_rough_opening():
    # T13 (D): sqrt(36^2 + 60^2) = 69.9714
    assert diagonal_of(ROUGH_36_BY_60).in_inches == pytest.approx(69.9714, abs=1e-4)


def test_diagonals_may_differ_by_an_eighth_up_to_twenty_square_feet():
    # P: a window maker's dimension guide, "proper installation" page; 48 x 60 in are 20 square feet
    assert diagonal_tolerance(opening(width="47.5", height="59.5")) == inch("1/8")
    assert diagonal_tolerance(opening(width="47.5625", height="59.5")) == inch("1/4")


@pytest.mark.parametrize(("level", "passes"), [(48, True), (24, False)])
def test_gap_under_a_level(level, passes):
    # T16 (P), same page: 3/32 under a 4-ft level passes, under a 2-ft level it fails
    assert (inch("3/32") <= level_tolerance(inch(level))) is passes


def test_strings_may_be_apart_by_an_eighth_up_to_four_feet():
    # P, same page: 1/8 in to 4 ft, 3/16 in above
    assert twist_tolerance(opening(width="47.5", height="47.5")) == inch("1/8")
    assert twist_tolerance(ROUGH_36_BY_60) == inch("3/16")


@pytest.mark.parametrize(("roll", "first_fit"), [(900, 4), (600, 5), (1200, 3)])
def test_first_fit_buys_one_roll_too_many_where_it_is_known_to(roll, first_fit):
    # T26, T27 (D, by integer program): 20 x 77 + 20 x 54: optimum 3 on 75 ft, 5 on 50 ft, 3 on 100 ft;
    # first-fit-decreasing takes 4 on 75 ft
    strips = {inch(77).nm: 20, inch(54).nm: 20}

    assert rolls_first_fit(strips, roll=inch(roll), trim=Length(0)) == first_fit
