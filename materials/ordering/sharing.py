"""Whose need do stock and open deliveries give, and what is left to buy: day by day, kind by kind. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from materials.ordering.buying import Market, Wanted
from materials.ordering.laying import late_deliveries
from materials.ordering.netting import BOUGHT, KEEPS, net_demands
from materials.ordering.plan import Draw, Loss, NetDemand, Shortage
from materials.ordering.problem import Delivery, Demand, Lot, PurchaseProblem, Reserve

Whose = tuple[str, str]
"""A material and the reference of a demand for it."""


@dataclass(frozen=True, slots=True)
class Supply:
    """What is there or on its way and promised to nobody; names are unique within a material."""

    lots: tuple[Lot, ...] = ()
    deliveries: tuple[Delivery, ...] = ()
    reserves: tuple[Reserve, ...] = ()

    def without(self, taken: Mapping[Whose, int]) -> Supply:
        """Return the supply after so much was taken, by material and the source's name."""
        return replace(
            self,
            lots=tuple(
                replace(lot, quantity=lot.quantity - taken.get((lot.material, lot.name), 0))
                for lot in self.lots
            ),
            deliveries=tuple(
                replace(one, quantity=one.quantity - taken.get((one.material, one.reference), 0))
                for one in self.deliveries
            ),
        )


@dataclass(frozen=True, slots=True)
class Shared:
    """Who is given how much, what is to be bought for the rest, what spoils and what comes late.

    `given` is by material and reference; `taken` the same amounts by the source they come from.
    """

    given: Mapping[Whose, int] = field(default_factory=dict)
    taken: Mapping[Whose, int] = field(default_factory=dict)
    wanted: tuple[Wanted, ...] = ()
    losses: tuple[Loss, ...] = ()
    shortages: tuple[Shortage, ...] = ()


def share_out(demands: Iterable[Demand], supply: Supply, market: Market) -> Shared:
    """Return the shares in date order, first expired first out; within a day in the order of `demands`.

    What is bought for the reserve serves later days, but is nobody's stock yet.
    """
    problem = PurchaseProblem(
        today=market.today,
        demands=tuple(demands),
        lots=supply.lots,
        deliveries=supply.deliveries,
        reserves=supply.reserves,
        packs=market.packs,
        suppliers=market.suppliers,
        currency=market.currency,
    )
    netting = net_demands(problem)
    given: Counter[Whose] = Counter()
    taken: Counter[Whose] = Counter()
    for net in netting.nets:
        draws = [draw for draw in (*net.draws, *net.late) if draw.source != BOUGHT]
        given.update(_given(net, draws))
        for draw in draws:
            taken[net.material, draw.source] += draw.quantity
    return Shared(
        given=given,
        taken=taken,
        wanted=tuple(_wanted(netting.nets)),
        losses=netting.losses,
        shortages=tuple(short for net in netting.nets for short in late_deliveries(net)),
    )


def after_claims(
    supply: Supply, claims: Mapping[str, Mapping[str, int]], sources: Mapping[str, str]
) -> Supply:
    """Return what is left once orders have kept what their own openings need.

    `claims` is by order, then material; `sources` names the order that a lot came from. What came is kept
    first, what spoils soonest before the rest, then what the order still brings.
    """
    left = {order: Counter(owed) for order, owed in claims.items()}
    shelves = [
        *((lot.material, lot.name, lot.quantity) for lot in sorted(supply.lots, key=_first_out)),
        *((one.material, one.reference, one.quantity) for one in supply.deliveries),
    ]
    taken: Counter[Whose] = Counter()
    for material, name, quantity in shelves:
        owed = left.get(sources.get(name, name), Counter())
        kept = min(quantity, owed[material])
        owed[material] -= kept
        taken[material, name] += kept
    return supply.without(taken)


def _first_out(lot: Lot) -> date:
    return lot.last_good or KEEPS


def _given(net: NetDemand, draws: Sequence[Draw]) -> Counter[Whose]:
    there = sum(draw.quantity for draw in draws)
    given: Counter[Whose] = Counter()
    for demand in net.demands:
        share = min(there, demand.quantity)
        there -= share
        if share:
            given[net.material, demand.reference] += share
    return given


def _wanted(nets: Iterable[NetDemand]) -> Iterator[Wanted]:
    """Yield what to buy of each material over all its days, for the first of them that lacks something."""
    lacking: dict[str, list[NetDemand]] = {}
    for net in nets:
        if net.net:
            lacking.setdefault(net.material, []).append(net)
    for material, days in lacking.items():
        yield Wanted(material, min(net.needed for net in days), sum(net.net for net in days))
