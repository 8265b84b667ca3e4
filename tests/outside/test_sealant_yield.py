"""Containers and bead yields against exact US measure."""

from __future__ import annotations

from fractions import Fraction

import pytest

from openings.takeoff.section import volume_along
from projects.quantities.length import Length
from projects.quantities.volume import Area, Volume
from tests.openings.takeoff.cases import inch


@pytest.mark.parametrize(
    ("fluid_ounces", "cubic_inches", "millilitres"),
    [  # T1 (D): 231 in3 to the gallon, NIST Handbook 44 App. C from memory
        ("10.1", 18.2273, 298.693),
        ("20", 36.0938, 591.471),
        ("28", 50.5313, 828.059),
        ("29", 52.3359, 857.632),
    ],
)
def test_cartridge_volumes(fluid_ounces, cubic_inches, millilitres):
    volume = Volume.fluid_ounces(Fraction(fluid_ounces))

    assert volume.in_cubic_inches == pytest.approx(cubic_inches, abs=1e-4)
    assert volume.in_millilitres == pytest.approx(millilitres, abs=1e-3)


@pytest.mark.parametrize(("fluid_ounces", "printed"), [(27, 48.7), (30, 54.1)])
def test_cartridge_volumes_of_a_distributors_note(fluid_ounces, printed):
    # T2 (P): a distributor's note
    assert Volume.fluid_ounces(fluid_ounces).in_cubic_inches == pytest.approx(printed, abs=0.05)


@pytest.mark.parametrize(
    ("millilitres", "cubic_inches", "within"),
    [(300, 18.3071, 1e-4), (310, 18.9174, 1e-4), (600, 36.6142, 1e-4), (600, 36.6, 0.02)],
)
def test_metric_packs(millilitres, cubic_inches, within):
    # T3 (P 36.6, D 36.6142); 300 and 310 mL D
    assert Volume.millilitres(millilitres).in_cubic_inches == pytest.approx(cubic_inches, abs=within)


def square(side: str) -> Area:
    """Return the section of a square bead."""
    return Area.of(inch(side), inch(side))


SECTIONS = {
    "1/8 x 1/8": square("1/8"),
    "3/16 square": square("3/16"),
    "1/4 square": square("1/4"),
    "3/8 x 1/4": Area.of(inch("3/8"), inch("1/4")),
    "3/8 square": square("3/8"),
    "1/2 x 1/4": Area.of(inch("1/2"), inch("1/4")),
    "1/2 square": square("1/2"),
    "1/4 round": Area.circle(inch("1/4")),
    "3/8 round": Area.circle(inch("3/8")),
    "3/8 triangle fillet": Area(square("3/8").nm2 // 2),
}
# D: feet per container of 10.1, 20, 28, 29 fl oz, no waste
YIELDS = {
    "1/8 x 1/8": (97.21, 192.50, 269.50, 279.13),
    "3/16 square": (43.21, 85.56, 119.78, 124.06),
    "1/4 square": (24.30, 48.13, 67.38, 69.78),
    "3/8 x 1/4": (16.20, 32.08, 44.92, 46.52),
    "3/8 square": (10.80, 21.39, 29.94, 31.01),
    "1/2 x 1/4": (12.15, 24.06, 33.69, 34.89),
    "1/2 square": (6.08, 12.03, 16.84, 17.45),
    "1/4 round": (30.94, 61.27, 85.78, 88.85),
    "3/8 round": (13.75, 27.23, 38.13, 39.49),
    "3/8 triangle fillet": (21.60, 42.78, 59.89, 62.03),
}


@pytest.mark.parametrize("section", SECTIONS)
@pytest.mark.parametrize(("place", "fluid_ounces"), list(enumerate(("10.1", "20", "28", "29"))))
def test_bead_as_long_as_the_yield_empties_the_container(section, place, fluid_ounces):
    container = Volume.fluid_ounces(Fraction(fluid_ounces)).pl
    feet = YIELDS[section][place]

    def used(of_feet: float) -> int:
        return volume_along(SECTIONS[section].nm2, Length.inches(12 * of_feet).nm)

    assert used(feet - 0.0051) < container < used(feet + 0.0051)


def test_quarter_inch_bead_yields_half_of_what_web_charts_say():
    # T4 (D): 24.30 ft from 10.1 fl oz; a web coverage chart gives 50 to 55 ft, which would take two
    chart = volume_along(square("1/4").nm2, Length.inches(12 * 50).nm)

    assert chart > 2 * Volume.fluid_ounces(Fraction("10.1")).pl


def test_ten_millimetres_square_empty_600_millilitres_in_six_metres():
    # T6 (D): exact
    section = Area.of(Length.mm(10), Length.mm(10))

    assert volume_along(section.nm2, Length.mm(6000).nm) == Volume.millilitres(600).pl
