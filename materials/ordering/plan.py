"""The purchase plan: net demand by day, what to buy for it, what spoils and what comes too late. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction

from materials.ordering.problem import Demand, Pack
from projects.quantities.money import Money


class Status(StrEnum):
    """How far the plan's cost is proven."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"


@dataclass(frozen=True, slots=True)
class Draw:
    """What one day takes from one lot, or from one delivery with the evening it is `due`."""

    source: str
    quantity: int
    due: date | None = None


@dataclass(frozen=True, slots=True)
class NetDemand:
    """One material on one day: the need, what stock and deliveries give, and what is left to buy.

    The identity: `net` = max(0, need + reserve - usable), where `usable` is what is there and still good that
    morning, the nets of earlier days included. `draws` say where the need is taken from, first expired first
    out; `late` the same for deliveries that count though they come after that morning, because nothing
    ordered now would come sooner.
    """

    material: str
    needed: date
    need: int
    reserve: int
    usable: int
    net: int
    draws: tuple[Draw, ...] = ()
    demands: tuple[Demand, ...] = ()
    late: tuple[Draw, ...] = ()

    @property
    def unfilled(self) -> int:
        """Return how much of the need itself neither stock nor deliveries give."""
        return self.need - sum(draw.quantity for draw in (*self.draws, *self.late))


@dataclass(frozen=True, slots=True)
class Loss:
    """What is left of a lot or delivery when its last good day has passed before the next need."""

    material: str
    source: str
    quantity: int
    last_good: date


@dataclass(frozen=True, slots=True)
class PurchaseLine:
    """Whole packs of one kind for the net demand of one day, to be ordered by `order_by`.

    `quantity` is what it gives of that day's net demand; what the packs hold beyond serves later days. A
    price break counts the packs of this kind in all lines. `arrives` is the evening on which it is there:
    before `needed`, or as early as it can be where it is late.
    """

    material: str
    needed: date
    quantity: int
    pack: Pack
    packs: int
    unit_price: Money
    total: Money
    order_by: date
    arrives: date

    @property
    def bought(self) -> int:
        """Return the base units that the packs hold."""
        return self.packs * self.pack.size

    @property
    def is_late(self) -> bool:
        """Return whether it comes after the morning it is needed on."""
        return self.arrives >= self.needed


@dataclass(frozen=True, slots=True)
class Shortage:
    """What cannot be there in time, with the reason in words; `comes` is the evening it does, None never.

    `cost` is what the packs bought for that day cost though they come late; None where nothing is bought.
    """

    material: str
    needed: date
    quantity: int
    comes: date | None
    reason: str
    cost: Money | None = None


@dataclass(frozen=True, slots=True)
class Charge:
    """The order at one supplier: its `goods`, its `freight`, and what it lacks.

    `missing` is what the goods lack to the supplier's minimum. It is counted as paid: in more goods, or to
    the supplier. `told` says so in words; it is empty where nothing is missing.
    """

    supplier: str
    goods: Money
    freight: Money
    missing: Money
    told: str = ""


@dataclass(frozen=True, slots=True)
class PurchasePlan:
    """The answer. `cost` is that of the lines, with each order's freight and what it lacks to its minimum.

    `bound` is a proven least cost for the same net demand.
    """

    status: Status
    cost: Money
    bound: Money
    nets: tuple[NetDemand, ...] = ()
    lines: tuple[PurchaseLine, ...] = ()
    losses: tuple[Loss, ...] = ()
    shortages: tuple[Shortage, ...] = ()
    charges: tuple[Charge, ...] = ()

    @property
    def gap(self) -> Fraction:
        """Return (cost - bound) / cost, 0 at zero cost."""
        if not self.cost.cents:
            return Fraction(0)
        return Fraction(self.cost.cents - self.bound.cents, self.cost.cents)
