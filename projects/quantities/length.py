"""Lengths as whole nanometres, so that 1/64 in and 0.1 mm are both exact. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

NM_PER_INCH = 25_400_000
NM_PER_MM = 1_000_000


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A length in nanometres. Source: 1 in = 25.4 mm exactly (NIST SP 811)."""

    nm: int

    @classmethod
    def inches(cls, value: int | float | Fraction) -> Length:
        """Return `value` inches, rounded once to the nanometre."""
        return cls(round(Fraction(value) * NM_PER_INCH))

    @classmethod
    def mm(cls, value: int | float | Fraction) -> Length:
        """Return `value` millimetres, rounded once to the nanometre."""
        return cls(round(Fraction(value) * NM_PER_MM))

    @property
    def in_inches(self) -> float:
        """Return inches, for JSON and drawings."""
        return self.nm / NM_PER_INCH

    @property
    def exact_inches(self) -> Fraction:
        """Return inches exactly."""
        return Fraction(self.nm, NM_PER_INCH)

    @property
    def in_mm(self) -> float:
        """Return millimetres, for JSON and drawings."""
        return self.nm / NM_PER_MM

    def __add__(self, other: Length) -> Length:
        """Return the sum."""
        return Length(self.nm + other.nm)

    def __sub__(self, other: Length) -> Length:
        """Return the difference; it may be negative."""
        return Length(self.nm - other.nm)

    def __mul__(self, times: int | Fraction) -> Length:
        """Return the length `times` over, rounded to the nanometre."""
        return Length(round(self.nm * times))

    __rmul__ = __mul__

    def __bool__(self) -> bool:
        """Return whether there is any length at all."""
        return self.nm != 0


ZERO_LENGTH = Length(0)
