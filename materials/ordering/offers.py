"""Which packs may serve which days, and which orders may stand below their supplier's minimum. Pure."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from materials.ordering.plan import NetDemand
from materials.ordering.problem import Pack, PurchaseProblem
from materials.ordering.workdays import arrival


class Step(NamedTuple):
    """From `least` to `most` packs of a kind, each costs `price` cents."""

    least: int
    most: int
    price: int


@dataclass(frozen=True, slots=True)
class Offer:
    """A kind of pack that may be bought from the row's stretch `since` on.

    `place` is its rank among the material's packs, from 1: largest first, then by supplier and name.
    """

    pack: Pack
    place: int
    since: int
    steps: tuple[Step, ...]

    def price(self, packs: int) -> int:
        """Return what each of `packs` packs costs, in cents."""
        return self.pack.unit_price(packs).cents


@dataclass(frozen=True, slots=True)
class Row:
    """One material: by the end of stretch i, at least `needs[i]` base units are bought of offers since i.

    A stretch is the days on which the same packs may be bought; each has more of them than the one before.
    """

    material: str
    needs: tuple[int, ...]
    offers: tuple[Offer, ...]

    def of(self, sellers: Collection[str]) -> list[Offer]:
        """Return what `sellers` offer."""
        return [offer for offer in self.offers if offer.pack.supplier in sellers]


def rows_of(problem: PurchaseProblem, nets: Sequence[NetDemand]) -> tuple[Row, ...]:
    """Return a row for each material that is to be bought and on sale, in the order of `nets`."""
    by_material: dict[str, list[NetDemand]] = {}
    for net in nets:
        if net.net and any(pack.material == net.material for pack in problem.packs):
            by_material.setdefault(net.material, []).append(net)
    return tuple(_row(problem, days) for days in by_material.values())


def sellers_on(problem: PurchaseProblem, material: str, day: date) -> frozenset[str]:
    """Return who can bring `material` in time for the morning of `day`; if nobody, those first to arrive."""
    arrivals = {
        pack.supplier: arrival(problem.today, problem.supplier_of(pack))
        for pack in problem.packs
        if pack.material == material
    }
    in_time = frozenset(key for key, comes in arrivals.items() if comes < day)
    first = min(arrivals.values(), default=None)
    return in_time or frozenset(key for key, comes in arrivals.items() if comes == first)


def may_stand_below(problem: PurchaseProblem, nets: Sequence[NetDemand]) -> frozenset[str]:
    """Return the suppliers whose order may stand below their minimum.

    That is where something has no other seller who takes an order for it: who has no minimum, or whose
    minimum all that he could bring reaches.
    """
    reached = {supplier.key: _reaches(problem, nets, supplier.key) for supplier in problem.suppliers}
    below: set[str] = set()
    for net in nets:
        if not net.net:
            continue
        sellers = _sellers(problem, nets, net)
        takers = {key for key in sellers if _takes(problem, net.material, key, is_reached=reached[key])}
        below |= {key for key in sellers if not takers - {key}}
    return frozenset(below)


def _takes(problem: PurchaseProblem, material: str, key: str, *, is_reached: bool) -> bool:
    """Return whether `key` takes an order for `material`; what is free can't be topped up to a minimum."""
    packs = [pack for pack in problem.packs if pack.material == material and pack.supplier == key]
    if not problem.supplier_of(packs[0]).minimum.cents:
        return True
    return is_reached and all(
        price.cents for pack in packs for price in (pack.price, *(step.price for step in pack.breaks))
    )


def _sellers(problem: PurchaseProblem, nets: Sequence[NetDemand], net: NetDemand) -> frozenset[str]:
    """Return who may sell for the day of `net`; of an undivided material, who may for its first day."""
    day = net.needed
    if problem.undivided:
        day = min(each.needed for each in nets if each.material == net.material and each.net)
    return sellers_on(problem, net.material, day)


def _reaches(problem: PurchaseProblem, nets: Sequence[NetDemand], key: str) -> bool:
    """Return whether all that the supplier could bring, each at his cheapest kind, comes to his minimum."""
    minimum = next(one.minimum.cents for one in problem.suppliers if one.key == key)
    quantities: dict[str, int] = {}
    for net in nets:
        if net.net and key in _sellers(problem, nets, net):
            quantities[net.material] = quantities.get(net.material, 0) + net.net
    total = 0
    for material, quantity in quantities.items():
        packs = [pack for pack in problem.packs if pack.material == material and pack.supplier == key]
        total += min(
            pack.unit_price(pack.packs_for(quantity)).cents * pack.packs_for(quantity) for pack in packs
        )
    return total >= minimum


def _row(problem: PurchaseProblem, days: Sequence[NetDemand]) -> Row:
    """Return the row of one material's days; none of them is without a net."""
    material = days[0].material
    needs: list[int] = []
    since: dict[str, int] = {}
    bought = 0
    for net in days:
        new = [key for key in sellers_on(problem, material, net.needed) if key not in since]
        if new and not (problem.undivided and since):
            since |= dict.fromkeys(new, len(needs))
            needs.append(0)
        bought += net.net
        needs[-1] = bought
    packs = sorted(
        (pack for pack in problem.packs if pack.material == material),
        key=lambda pack: (-pack.size, pack.supplier, pack.name),
    )
    return Row(
        material,
        tuple(needs),
        tuple(
            Offer(pack, place, since[pack.supplier], tuple(_steps(problem, pack, bought)))
            for place, pack in enumerate(packs, 1)
            if pack.supplier in since
        ),
    )


def _steps(problem: PurchaseProblem, pack: Pack, quantity: int) -> Iterator[Step]:
    """Yield the steps of price; more packs than the last one's `most` are in no cheapest plan.

    So many hold all that is needed, reach every break, and alone come to the supplier's minimum.
    """
    starts = sorted({pack.minimum, *(step.packs for step in pack.breaks if step.packs > pack.minimum)})
    lasting = pack.unit_price(starts[-1]).cents
    minimum = problem.supplier_of(pack).minimum.cents
    most = max(pack.packs_for(quantity), starts[-1], -(-minimum // lasting) if lasting else 0)
    for start, after in zip(starts, [*starts[1:], most + 1], strict=True):
        yield Step(start, after - 1, pack.unit_price(start).cents)
