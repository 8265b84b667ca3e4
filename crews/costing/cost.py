"""What an opening costs, part by part; every total is the sum of its lines. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from projects.quantities.money import Money


class Group(StrEnum):
    """The three columns of an opening's cost."""

    MATERIAL = "material"
    LABOUR = "labour"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class CostPart:
    """One line: `quantity` x `cents_per_unit`, half up to the cent once.

    A share of a cost of the house has its part of the whole as quantity and the whole as rate; its amount is
    rounded by largest remainder, so that the openings' shares sum to the whole.
    """

    group: Group
    name: str
    quantity: Fraction
    unit: str
    cents_per_unit: Fraction
    amount: Money
    basis: str
    is_share: bool = False


@dataclass(frozen=True, slots=True)
class OpeningCost:
    """One opening's cost."""

    mark: str
    parts: tuple[CostPart, ...]
    currency: str

    @property
    def material(self) -> Money:
        """Return the sum of the material lines."""
        return self.of(Group.MATERIAL)

    @property
    def labour(self) -> Money:
        """Return the sum of the labour lines."""
        return self.of(Group.LABOUR)

    @property
    def other(self) -> Money:
        """Return the sum of all other lines."""
        return self.of(Group.OTHER)

    @property
    def total(self) -> Money:
        """Return the sum of all lines."""
        return summed((part.amount for part in self.parts), self.currency)

    def of(self, group: Group) -> Money:
        """Return the sum of one group's lines."""
        return summed((part.amount for part in self.parts if part.group is group), self.currency)


@dataclass(frozen=True, slots=True)
class HouseCost:
    """A house's cost: nothing but its openings'."""

    openings: tuple[OpeningCost, ...]
    currency: str

    @property
    def total(self) -> Money:
        """Return the sum over the openings."""
        return summed((opening.total for opening in self.openings), self.currency)

    def of(self, group: Group) -> Money:
        """Return one group's sum over the openings."""
        return summed((opening.of(group) for opening in self.openings), self.currency)


def summed(amounts: Iterable[Money], currency: str) -> Money:
    """Return the sum of `amounts`. Raises MixedCurrencies."""
    return sum(amounts, Money(0, currency))
