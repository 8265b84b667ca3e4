"""How much of each day's need do stock and open deliveries give, and what is left to buy. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from materials.ordering.plan import Draw, Loss, NetDemand
from materials.ordering.problem import Demand, PurchaseProblem
from materials.ordering.workdays import arrival

KEEPS = date.max
BOUGHT = "to buy"


@dataclass(frozen=True, slots=True)
class Netting:
    """The net demand of all materials, by material and day, and what spoils on the way."""

    nets: tuple[NetDemand, ...]
    losses: tuple[Loss, ...]


@dataclass(slots=True)
class _Shelf:
    """What is left of one lot, delivery or purchase."""

    source: str
    quantity: int
    last_good: date = KEEPS
    due: date | None = None

    def spoils_before(self, day: date) -> bool:
        return self.last_good < day


def net_demands(problem: PurchaseProblem) -> Netting:
    """Return the netting, in date order, first expired first out.

    A lot that expires before its day does not count; a delivery counts from the morning after it is due, or
    for an earlier morning where nothing ordered today would come sooner than it.
    """
    nets: list[NetDemand] = []
    losses: list[Loss] = []
    by_day: dict[tuple[str, date], list[Demand]] = {}
    for demand in problem.demands:
        if demand.quantity:
            by_day.setdefault((demand.material, demand.needed), []).append(demand)
    for material in problem.materials:
        shelves = _shelves(problem, material)
        for day in sorted(day for of, day in by_day if of == material):
            # what is overdue is taken today, so it must be good today
            losses.extend(_spoiled(shelves, material, max(day, problem.today)))
            nets.append(_net(problem, tuple(by_day[material, day]), shelves=shelves))
    return Netting(tuple(nets), tuple(losses))


def earliest_arrival(problem: PurchaseProblem, material: str) -> date | None:
    """Return the first evening on which an order of today can be there; None where nobody sells it."""
    packs = [pack for pack in problem.packs if pack.material == material]
    return min((arrival(problem.today, problem.supplier_of(pack)) for pack in packs), default=None)


def _shelves(problem: PurchaseProblem, material: str) -> list[_Shelf]:
    """Return lots and deliveries, first to expire first; deliveries of one last good day as they come."""
    shelves = [
        _Shelf(lot.name, lot.quantity, lot.last_good or KEEPS)
        for lot in problem.lots
        if lot.material == material
    ]
    shelves += [
        _Shelf(delivery.reference, delivery.quantity, delivery.last_good or KEEPS, delivery.due)
        for delivery in problem.deliveries
        if delivery.material == material
    ]
    return sorted(shelves, key=lambda shelf: (shelf.last_good, shelf.due or date.min))


def _spoiled(shelves: list[_Shelf], material: str, day: date) -> Iterator[Loss]:
    """Yield what has passed its last good day by `day`, and take it off the shelves."""
    for shelf in [shelf for shelf in shelves if shelf.spoils_before(day)]:
        shelves.remove(shelf)
        if shelf.quantity:
            yield Loss(material, shelf.source, shelf.quantity, shelf.last_good)


def _net(problem: PurchaseProblem, demands: tuple[Demand, ...], *, shelves: list[_Shelf]) -> NetDemand:
    """Return the net demand of one material's demands for one day."""
    material, day = demands[0].material, demands[0].needed
    need = sum(demand.quantity for demand in demands)
    reserve = problem.reserve_of(material)
    there = [shelf for shelf in shelves if shelf.due is None or shelf.due < day]
    coming = _coming_late(shelves, day, earliest=earliest_arrival(problem, material))
    usable = sum(shelf.quantity for shelf in (*there, *coming))
    draws = tuple(_drawn(there, need))
    late = tuple(_drawn(coming, need - sum(draw.quantity for draw in draws)))
    net = max(0, need + reserve - usable)
    kept = net - max(0, need - usable)
    if kept:
        shelves.append(_Shelf(BOUGHT, kept))
    return NetDemand(
        material, day, need, reserve=reserve, usable=usable, net=net, draws=draws, demands=demands, late=late
    )


def _coming_late(shelves: Sequence[_Shelf], day: date, *, earliest: date | None) -> list[_Shelf]:
    """Return deliveries after the morning of `day` that nothing ordered today would beat."""
    return [shelf for shelf in shelves if shelf.due and day <= shelf.due <= (earliest or KEEPS)]


def _drawn(shelves: Sequence[_Shelf], quantity: int) -> Iterator[Draw]:
    """Yield what is taken from each shelf until `quantity` is reached, and take it."""
    for shelf in shelves:
        taken = min(quantity, shelf.quantity)
        if taken > 0:
            shelf.quantity -= taken
            quantity -= taken
            yield Draw(shelf.source, taken, shelf.due)
