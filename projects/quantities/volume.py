"""Areas and volumes as whole square nanometres and whole picolitres. Pure."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from projects.quantities.length import NM_PER_INCH, Length

NM3_PER_PL = 10**12
PL_PER_ML = 10**9
PL_PER_IN3 = Fraction(NM_PER_INCH**3, NM3_PER_PL)
IN3_PER_GALLON = 231
FLOZ_PER_GALLON = 128


@dataclass(frozen=True, slots=True, order=True)
class Area:
    """An area in square nanometres."""

    nm2: int

    @classmethod
    def of(cls, width: Length, height: Length) -> Area:
        """Return width x height, exactly."""
        return cls(width.nm * height.nm)

    @classmethod
    def circle(cls, diameter: Length) -> Area:
        """Return pi d^2 / 4, rounded once (the one float in a section area)."""
        return cls(round(math.pi * diameter.nm * diameter.nm / 4))

    @property
    def in_square_inches(self) -> float:
        """Return square inches, for JSON."""
        return self.nm2 / NM_PER_INCH**2

    @property
    def in_square_metres(self) -> float:
        """Return square metres, for JSON."""
        return self.nm2 / 10**18

    def __add__(self, other: Area) -> Area:
        """Return the sum."""
        return Area(self.nm2 + other.nm2)

    def __mul__(self, times: int) -> Area:
        """Return the area `times` over."""
        return Area(self.nm2 * times)


@dataclass(frozen=True, slots=True, order=True)
class Volume:
    """A volume in picolitres (1e-15 m3): fine enough that a house's sum keeps 1e-6 cubic inches.

    Source: 1 US gallon = 231 cubic inches (NIST Handbook 44, Appendix C, from memory).
    """

    pl: int

    @classmethod
    def along(cls, section: Area, length: Length) -> Volume:
        """Return section x length, rounded once to the picolitre."""
        return cls(round(Fraction(section.nm2 * length.nm, NM3_PER_PL)))

    @classmethod
    def cubic_inches(cls, value: int | float | Fraction) -> Volume:
        """Return `value` cubic inches, rounded once to the picolitre."""
        return cls(round(Fraction(value) * PL_PER_IN3))

    @classmethod
    def fluid_ounces(cls, value: int | float | Fraction) -> Volume:
        """Return `value` US fluid ounces, rounded once to the picolitre."""
        return cls.cubic_inches(Fraction(value) * IN3_PER_GALLON / FLOZ_PER_GALLON)

    @classmethod
    def millilitres(cls, value: int | float | Fraction) -> Volume:
        """Return `value` millilitres, rounded once to the picolitre."""
        return cls(round(Fraction(value) * PL_PER_ML))

    @property
    def exact_cubic_inches(self) -> Fraction:
        """Return cubic inches exactly."""
        return self.pl / PL_PER_IN3

    @property
    def in_cubic_inches(self) -> float:
        """Return cubic inches, for JSON."""
        return float(self.pl / PL_PER_IN3)

    @property
    def in_millilitres(self) -> float:
        """Return millilitres, for JSON."""
        return self.pl / PL_PER_ML

    def __add__(self, other: Volume) -> Volume:
        """Return the sum."""
        return Volume(self.pl + other.pl)

    def __mul__(self, times: int | Fraction) -> Volume:
        """Return the volume `times` over, rounded to the picolitre."""
        return Volume(round(self.pl * times))


ZERO_AREA = Area(0)
ZERO_VOLUME = Volume(0)
