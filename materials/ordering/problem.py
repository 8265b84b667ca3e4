"""What is needed when, what is there or on its way, and who sells it: the purchase problem. Pure.

Quantities are whole numbers of a material's base unit (pieces, nanometres of roll, picolitres); days are
local dates. Materials and suppliers are told apart by their keys.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from projects.errors import BadValue
from projects.quantities.money import Money

NOTHING = Money(0)


@dataclass(frozen=True, slots=True)
class Demand:
    """`quantity` of `material` needed on the morning of `needed`; `reference` names what for (an opening)."""

    material: str
    quantity: int
    needed: date
    reference: str = ""

    def __post_init__(self) -> None:
        """Raise BadValue for a negative quantity."""
        _check_at_least(self.quantity, 0, f"The demand for {self.material}")


@dataclass(frozen=True, slots=True)
class Lot:
    """A lot in stock; `last_good` is the last day on which it may be used (None: it keeps)."""

    material: str
    name: str
    quantity: int
    last_good: date | None = None

    def __post_init__(self) -> None:
        """Raise BadValue for a negative quantity."""
        _check_at_least(self.quantity, 0, f"Lot {self.name}")


@dataclass(frozen=True, slots=True)
class Delivery:
    """An open delivery: it is there by the evening of `due`, for use from the next morning."""

    material: str
    reference: str
    quantity: int
    due: date
    last_good: date | None = None

    def __post_init__(self) -> None:
        """Raise BadValue for a negative quantity."""
        _check_at_least(self.quantity, 0, f"Delivery {self.reference}")


@dataclass(frozen=True, slots=True)
class Reserve:
    """What has to stay on the shelf of a material after each day's need."""

    material: str
    quantity: int

    def __post_init__(self) -> None:
        """Raise BadValue for a negative quantity."""
        _check_at_least(self.quantity, 0, f"The reserve of {self.material}")


@dataclass(frozen=True, slots=True)
class Supplier:
    """A supplier delivers `lead_days` working days after the order, and takes orders from `minimum` on.

    `holidays` are not working days. `freight` is charged once per order, and does not count to the minimum.
    """

    key: str
    lead_days: int
    holidays: frozenset[date] = frozenset()
    minimum: Money = NOTHING
    freight: Money = NOTHING

    def __post_init__(self) -> None:
        """Raise BadValue for a negative lead time, minimum or freight."""
        _check_at_least(self.lead_days, 0, f"The lead time of {self.key}")
        _check_at_least(self.minimum.cents, 0, f"The minimum of {self.key} in cents")
        _check_at_least(self.freight.cents, 0, f"The freight of {self.key} in cents")


@dataclass(frozen=True, slots=True)
class PriceBreak:
    """Where an order has `packs` packs or more of a kind, each of them costs `price`."""

    packs: int
    price: Money


@dataclass(frozen=True, slots=True)
class Pack:
    """One way to buy a material: `size` base units for `price`, at least `minimum` packs of it in an order.

    Breaks and minimum count the packs of this kind in the whole order, over all its days.
    """

    material: str
    supplier: str
    name: str
    size: int
    price: Money
    breaks: tuple[PriceBreak, ...] = ()
    minimum: int = 1

    def __post_init__(self) -> None:
        """Raise BadValue where size, minimum or price cannot be, or a break raises the price."""
        _check_at_least(self.size, 1, f"The size of {self.name}")
        _check_at_least(self.minimum, 1, f"The minimum of {self.name}")
        before = self.price
        for step in (PriceBreak(1, self.price), *sorted(self.breaks, key=lambda step: step.packs)):
            _check_at_least(step.price.cents, 0, f"The price of {self.name} in cents")
            _check_at_least(step.packs, 1, f"The packs of a break of {self.name}")
            if step.price.cents > before.cents:
                raise BadValue(
                    problem=f"From {step.packs} packs on, {self.name} gets dearer.",
                    remedy="Give breaks that lower the price.",
                    value=step.price,
                )
            before = step.price

    def unit_price(self, packs: int) -> Money:
        """Return the price of one pack when `packs` are bought."""
        reached = [step for step in self.breaks if step.packs <= packs]
        return max(reached, key=lambda step: step.packs).price if reached else self.price

    def packs_for(self, quantity: int) -> int:
        """Return how many packs hold `quantity`, not below the minimum."""
        return max(self.minimum, -(-quantity // self.size))


@dataclass(frozen=True, slots=True)
class PurchaseProblem:
    """Everything a purchase plan follows from.

    There is one order per supplier. Where it is `undivided`, all of a material comes from one supplier.
    """

    today: date
    demands: tuple[Demand, ...]
    lots: tuple[Lot, ...] = ()
    deliveries: tuple[Delivery, ...] = ()
    reserves: tuple[Reserve, ...] = ()
    packs: tuple[Pack, ...] = ()
    suppliers: tuple[Supplier, ...] = ()
    currency: str = "USD"
    undivided: bool = False

    def __post_init__(self) -> None:
        """Raise BadValue where a key repeats, a pack's supplier is unknown or a currency is foreign."""
        _check_once((supplier.key for supplier in self.suppliers), "supplier")
        _check_once((reserve.material for reserve in self.reserves), "reserve of")
        _check_once((f"{pack.material}, {pack.name} from {pack.supplier}" for pack in self.packs), "pack")
        known = {supplier.key for supplier in self.suppliers}
        for pack in self.packs:
            if pack.supplier not in known:
                raise BadValue(
                    problem=f"{pack.name} is sold by {pack.supplier!r}, who is not among the suppliers.",
                    remedy="Add the supplier, or leave the pack out.",
                    value=pack.supplier,
                )
            for price in (pack.price, *(step.price for step in pack.breaks)):
                if price.currency != self.currency:
                    raise BadValue(
                        problem=f"{pack.name} is priced in {price.currency}, not in {self.currency}.",
                        remedy="Give all prices in one currency.",
                        value=price.currency,
                    )

    @property
    def materials(self) -> tuple[str, ...]:
        """Return the materials that something is needed of, in alphabetical order."""
        return tuple(sorted({demand.material for demand in self.demands if demand.quantity}))

    def supplier_of(self, pack: Pack) -> Supplier:
        """Return who sells `pack`."""
        return next(supplier for supplier in self.suppliers if supplier.key == pack.supplier)

    def reserve_of(self, material: str) -> int:
        """Return what has to stay on the shelf of `material`."""
        return sum(reserve.quantity for reserve in self.reserves if reserve.material == material)


def _check_at_least(value: int, least: int, what: str) -> None:
    if value < least:
        raise BadValue(problem=f"{what} is {value}.", remedy=f"Give {least} or more.", value=value)


def _check_once(keys: Iterable[str], what: str) -> None:
    for key, times in Counter(keys).items():
        if times > 1:
            raise BadValue(problem=f"The {what} {key} is there {times} times.", remedy="Keep one.", value=key)
