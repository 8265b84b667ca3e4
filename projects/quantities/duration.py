"""Durations as whole seconds and temperatures as whole millikelvin. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

ZERO_CELSIUS_MK = 273_150


@dataclass(frozen=True, slots=True, order=True)
class Duration:
    """A span of time in seconds."""

    seconds: int

    @classmethod
    def minutes(cls, value: int | float | Fraction) -> Duration:
        """Return `value` minutes, rounded to the second."""
        return cls(round(Fraction(value) * 60))

    @classmethod
    def hours(cls, value: int | float | Fraction) -> Duration:
        """Return `value` hours, rounded to the second."""
        return cls(round(Fraction(value) * 3600))

    @property
    def in_minutes(self) -> float:
        """Return minutes."""
        return self.seconds / 60

    @property
    def in_hours(self) -> float:
        """Return hours."""
        return self.seconds / 3600

    @property
    def whole_minutes(self) -> int:
        """Return minutes, rounded up: a wait is never shortened."""
        return -(-self.seconds // 60)

    def __add__(self, other: Duration) -> Duration:
        """Return the sum."""
        return Duration(self.seconds + other.seconds)

    def __sub__(self, other: Duration) -> Duration:
        """Return the difference."""
        return Duration(self.seconds - other.seconds)


@dataclass(frozen=True, slots=True, order=True)
class Temperature:
    """A temperature in millikelvin."""

    mk: int

    @classmethod
    def celsius(cls, value: int | float | Fraction) -> Temperature:
        """Return `value` degrees Celsius."""
        return cls(round(Fraction(value) * 1000) + ZERO_CELSIUS_MK)

    @classmethod
    def fahrenheit(cls, value: int | float | Fraction) -> Temperature:
        """Return `value` degrees Fahrenheit."""
        return cls(round((Fraction(value) - 32) * Fraction(5000, 9)) + ZERO_CELSIUS_MK)

    @property
    def in_celsius(self) -> float:
        """Return degrees Celsius."""
        return (self.mk - ZERO_CELSIUS_MK) / 1000

    @property
    def in_fahrenheit(self) -> float:
        """Return degrees Fahrenheit."""
        return self.in_celsius * 9 / 5 + 32
