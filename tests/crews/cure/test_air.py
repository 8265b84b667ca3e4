"""Air that is refused, and its edges."""

from __future__ import annotations

import math

import pytest

from crews.cure.air import REFERENCE_AIR, Air, cure_speed, dew_point_c, vapour_pressure_pa
from projects.errors import BadValue


@pytest.mark.parametrize(
    ("temp_c", "rh"), [(-100.1, 50), (200.1, 50), (20, -1), (20, 100.1), (math.nan, 50), (20, math.nan)]
)
def test_air_beyond_the_formulas_is_refused(temp_c, rh):
    with pytest.raises(BadValue):
        Air(temp_c=temp_c, rh=rh)


def test_dry_air_has_no_dew_point():
    assert dew_point_c(Air(temp_c=20, rh=0)) is None


def test_saturated_air_has_its_own_temperature_as_dew_point():
    for temp_c in (-30, -0.5, 0, 0.5, 12, 40):
        assert dew_point_c(Air(temp_c=temp_c, rh=100)) == pytest.approx(temp_c, abs=1e-9)


def test_dew_point_below_freezing_is_over_ice():
    # Over ice p(-10 C) = 259.90 Pa and over water p(10 C) = 1228.00 Pa (printed, facts.md 6): 21.1645 %.
    found = dew_point_c(Air(temp_c=10, rh=100 * 259.90 / 1228.00))

    assert found == pytest.approx(-10, abs=0.005)


def test_dry_air_cures_nothing():
    assert vapour_pressure_pa(Air(temp_c=20, rh=0)) == 0
    assert cure_speed(Air(temp_c=20, rh=0)) == 0


def test_the_sheets_own_air_cures_at_speed_one():
    assert cure_speed(REFERENCE_AIR) == 1
