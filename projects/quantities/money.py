"""Money as whole cents with a currency; rounding half up, once per line. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction


class MixedCurrencies(ValueError):
    """Two currencies met in one sum."""


def half_up(value: Fraction) -> int:
    """Return `value` rounded to a whole number, halves away from zero."""
    return int((Decimal(value.numerator) / Decimal(value.denominator)).quantize(Decimal(1), ROUND_HALF_UP))


@dataclass(frozen=True, slots=True, order=True)
class Money:
    """An amount in cents of `currency` (ISO 4217)."""

    cents: int
    currency: str = "USD"

    @classmethod
    def of(cls, amount: str | int | Decimal, currency: str = "USD") -> Money:
        """Return `amount` whole units (dollars), half up to the cent."""
        return cls(half_up(Fraction(Decimal(amount)) * 100), currency)

    @property
    def as_text(self) -> str:
        """Return decimal text without currency, as JSON answers carry it: `12.30`."""
        sign = "-" if self.cents < 0 else ""
        return f"{sign}{abs(self.cents) // 100}.{abs(self.cents) % 100:02d}"

    def __add__(self, other: Money) -> Money:
        """Return the sum. Raises MixedCurrencies."""
        self._same(other)
        return Money(self.cents + other.cents, self.currency)

    def __sub__(self, other: Money) -> Money:
        """Return the difference. Raises MixedCurrencies."""
        self._same(other)
        return Money(self.cents - other.cents, self.currency)

    def __mul__(self, times: int | Fraction) -> Money:
        """Return the amount `times` over, half up to the cent."""
        return Money(half_up(Fraction(self.cents) * times), self.currency)

    def _same(self, other: Money) -> None:
        if self.currency != other.currency:
            raise MixedCurrencies(f"{self.currency} and {other.currency} cannot be summed")


def shares(total: Money, weights: Sequence[int]) -> list[Money]:
    """Return `total` split in proportion to `weights`, by largest remainder: the parts sum to the total.

    Equal remainders go to the earlier part. All weights zero: equal shares.
    """
    if not weights:
        return []
    used = list(weights) if any(weights) else [1] * len(weights)
    whole = sum(used)
    floors = [total.cents * weight // whole for weight in used]
    left = total.cents - sum(floors)
    by_remainder = sorted(range(len(used)), key=lambda i: (-(total.cents * used[i] % whole), i))
    for index in by_remainder[:left]:
        floors[index] += 1
    return [Money(cents, total.currency) for cents in floors]
