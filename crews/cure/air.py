"""How much water vapour the air holds for a bead to cure with, and when it wets a wall. Pure."""

from __future__ import annotations

import math
from dataclasses import dataclass

from projects.errors import BadValue

COLDEST_C = -100.0
HOTTEST_C = 200.0
ABSOLUTE_ZERO_C = -273.15
# Halving 300 kelvin a hundred times ends at the last bit of a float.
HALVINGS = 100


@dataclass(frozen=True, slots=True)
class Air:
    """Outside air: temperature in degrees Celsius, relative humidity in percent.

    Raises BadValue outside -100 to 200 C or 0 to 100 %. Source: range of the ASHRAE formulas (facts.md 6).
    """

    temp_c: float
    rh: float

    def __post_init__(self) -> None:
        """Refuse air that the formulas don't cover."""
        if not COLDEST_C <= self.temp_c <= HOTTEST_C:
            raise BadValue(
                problem=f"{self.temp_c:g} °C is outside -100 to 200 °C.",
                remedy="Give the air temperature in degrees Celsius.",
                value=self.temp_c,
            )
        if not 0 <= self.rh <= 100:
            raise BadValue(
                problem=f"A relative humidity of {self.rh:g} is outside 0 to 100 %.",
                remedy="Give it in percent: 50, not 0.5.",
                value=self.rh,
            )


# Sheets state skin-over, tack-free and depth per day in this air (ASTM C679, common to sealant sheets).
REFERENCE_AIR = Air(temp_c=23.0, rh=50.0)


def saturation_pressure_pa(temp_c: float) -> float:
    """Return the vapour pressure of saturated air in pascals, over ice below 0 C.

    Source: ASHRAE formulas for liquid (0 to 200 C) and ice (-100 to 0 C), as in facts.md 6.
    """
    kelvin = temp_c - ABSOLUTE_ZERO_C
    return math.exp(_over_ice(kelvin) if temp_c < 0 else _over_water(kelvin))


def vapour_pressure_pa(air: Air) -> float:
    """Return the pressure of the water vapour in `air`, in pascals."""
    return saturation_pressure_pa(air.temp_c) * air.rh / 100


def dew_point_c(air: Air) -> float | None:
    """Return the temperature at which `air` starts to wet a surface, in Celsius.

    None where the air is so dry that its dew point lies below -100 C, or has none at all (0 %).
    """
    pressure = vapour_pressure_pa(air)
    if pressure < saturation_pressure_pa(COLDEST_C):
        return None
    low, high = COLDEST_C, air.temp_c
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if saturation_pressure_pa(middle) < pressure:
            low = middle
        else:
            high = middle
    return high


def cure_speed(air: Air) -> float:
    """Return how fast a bead takes up water in `air`: 1 at 23 C and 50 %, 0.5 where it takes twice as long.

    Source: skin, tack and the square of the depth go with the vapour pressure (field guide 9, facts.md 6, M).
    """
    return vapour_pressure_pa(air) / vapour_pressure_pa(REFERENCE_AIR)


def _over_water(kelvin: float) -> float:
    return (
        -5800.2206 / kelvin
        + 1.3914993
        - 0.048640239 * kelvin
        + 4.1764768e-5 * kelvin**2
        - 1.4452093e-8 * kelvin**3
        + 6.5459673 * math.log(kelvin)
    )


def _over_ice(kelvin: float) -> float:
    return (
        -5674.5359 / kelvin
        + 6.3925247
        - 9.677843e-3 * kelvin
        + 6.2215701e-7 * kelvin**2
        + 2.0747825e-9 * kelvin**3
        - 9.484024e-13 * kelvin**4
        + 4.1635019 * math.log(kelvin)
    )
