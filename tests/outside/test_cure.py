"""The cure law against its published pair and what follows from it."""

from __future__ import annotations

import pytest

from crews.cure.air import REFERENCE_AIR, Air
from crews.cure.depth import CuringBead, cure_in_steady_air

# Source: a silicone's data sheet, 7.5 mm after 7 days, quoted in a 2021 paper (facts.md 6, P). By the law
# z = k sqrt(t): k = 7.5 / sqrt(7) = 2.8347 mm per root day, so a day gives 2.8347 mm.
K = 2.8347
THREE_EIGHTHS_MM = 9.525


def hours(depth_mm, *, sides=1, air=REFERENCE_AIR, ref_depth_mm=K):
    return cure_in_steady_air(CuringBead(depth_mm, ref_depth_mm, sides), air).hours


# Source: check T22 of facts.md (published pair).
def test_published_pair_is_seven_and_a_half_millimetres_in_a_week():
    assert hours(7.5) == pytest.approx(7 * 24, rel=1e-4)


# Source: check T22: 2.83 mm after 1 day, 15.0 mm after 28 days (15 = 7.5 x sqrt(28/7)).
@pytest.mark.parametrize(("days", "depth_mm"), [(1, 2.8347), (28, 15.0)])
def test_depth_goes_with_the_root_of_the_days(days, depth_mm):
    assert hours(depth_mm) == pytest.approx(days * 24, rel=1e-3)


# Source: check T23: a 3/8 in bead open on one side takes (9.525 / 2.8347)^2 = 11.29 days, on two a quarter.
def test_three_eighths_bead_takes_eleven_days_from_one_side():
    assert hours(THREE_EIGHTHS_MM) / 24 == pytest.approx(11.29, abs=0.01)


# Source: check T23.
def test_three_eighths_bead_takes_a_quarter_from_two_sides():
    assert hours(THREE_EIGHTHS_MM, sides=2) / 24 == pytest.approx(2.82, abs=0.01)


# Source: check T25: the law itself; four times the time for twice the depth, exactly.
def test_twice_the_depth_takes_four_times_as_long():
    assert hours(6, ref_depth_mm=3) == 4 * hours(3, ref_depth_mm=3)


# Source: check T25: more humidity or more warmth is never slower.
def test_damper_or_warmer_air_never_cures_slower():
    dry_to_damp = [hours(5, air=Air(temp_c=15, rh=rh)) for rh in range(10, 101, 10)]
    cold_to_warm = [hours(5, air=Air(temp_c=temp, rh=50)) for temp in range(-20, 41, 5)]

    assert dry_to_damp == sorted(dry_to_damp, reverse=True)
    assert cold_to_warm == sorted(cold_to_warm, reverse=True)


# Source: field guide 9: 5 C, 80 % takes twice as long as 23 C, 50 % (printed pressures 697.99, 1405.22 Pa).
def test_cold_damp_air_takes_twice_as_long():
    assert hours(5, air=Air(temp_c=5, rh=80)) / hours(5) == pytest.approx(1405.22 / 697.99, abs=1e-4)
