"""Masses as whole micrograms, so that the pound is exact. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

UG_PER_POUND = 453_592_370
UG_PER_KG = 10**9


def nearest(number: int, of: int) -> int:
    """Return `number` / `of` as the nearest whole number, a half as the even one, as `round` does."""
    whole, rest = divmod(number, of)
    return whole + (2 * rest > of or (2 * rest == of and whole % 2 == 1))


@dataclass(frozen=True, slots=True, order=True)
class Mass:
    """A mass in micrograms. Source: 1 lb = 0.45359237 kg exactly (NIST SP 811)."""

    ug: int

    @classmethod
    def pounds(cls, value: int | float | Fraction) -> Mass:
        """Return `value` pounds, rounded once to the microgram."""
        return cls(round(Fraction(value) * UG_PER_POUND))

    @classmethod
    def kg(cls, value: int | float | Fraction) -> Mass:
        """Return `value` kilograms, rounded once to the microgram."""
        return cls(round(Fraction(value) * UG_PER_KG))

    @property
    def in_pounds(self) -> float:
        """Return pounds, for JSON and the sheet."""
        return self.ug / UG_PER_POUND

    @property
    def in_kg(self) -> float:
        """Return kilograms."""
        return self.ug / UG_PER_KG
