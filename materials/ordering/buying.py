"""What to buy for a set of needs: pieces from the cheapest rolls, else the cheapest packs. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from materials.cutplan.plan import CutPlan, Status
from materials.cutplan.problem import CutProblem, Piece, Roll
from materials.cutplan.solve import Clock, plan_cuts
from materials.cutplan.verify import verify as verify_cuts
from materials.ordering.plan import Charge, PurchaseLine, Shortage
from materials.ordering.problem import Begun, Demand, Pack, PurchaseProblem, Supplier
from materials.ordering.solve import plan_purchases
from materials.ordering.verify import verify
from materials.ordering.workdays import arrival, order_by
from projects.quantities.money import Money


@dataclass(frozen=True, slots=True)
class Wanted:
    """One material for one delivery. `pieces` count what is cut, by length in nanometres."""

    material: str
    needed: date
    quantity: int
    pieces: Mapping[int, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Market:
    """Who sells what on `today`."""

    today: date
    packs: tuple[Pack, ...]
    suppliers: tuple[Supplier, ...]
    currency: str = "USD"

    def offers(self, material: str) -> dict[str, list[Pack]]:
        """Return the packs of a material by supplier key."""
        found: dict[str, list[Pack]] = {}
        for pack in self.packs:
            if pack.material == material:
                found.setdefault(pack.supplier, []).append(pack)
        return found

    def supplier(self, key: str) -> Supplier:
        """Return the supplier with `key`."""
        return next(supplier for supplier in self.suppliers if supplier.key == key)


@dataclass(frozen=True, slots=True)
class Bought:
    """Lines by supplier and material, what nobody can bring in time or at all, and each order's charges."""

    lines: tuple[PurchaseLine, ...]
    shortages: tuple[Shortage, ...]
    charges: tuple[Charge, ...] = ()


def buy(wanted: Sequence[Wanted], market: Market, *, seconds: float, clock: Clock) -> Bought:
    """Return what to buy. Each material has `seconds` of `clock` for its cut plan.

    A material to be cut goes whole to the supplier whose rolls come out cheapest among those in time. So does
    each other one, to where all of them, with freight and minimums, come out cheapest beside the rolls: the
    demand for a material is covered by the lines of one order.
    """
    lines: list[PurchaseLine] = []
    shortages: list[Shortage] = []
    for one in sorted((one for one in wanted if one.pieces), key=lambda one: one.material):
        cut, short = _cut(one, market, seconds=seconds, clock=clock)
        lines += cut
        shortages += short
    problem = _problem([one for one in wanted if not one.pieces], market, begun=lines)
    plain = plan_purchases(problem)
    broken = verify(problem, plain)
    if broken:
        raise AssertionError(f"the purchase plan breaks its rules: {broken}")
    return Bought((*lines, *plain.lines), (*shortages, *plain.shortages), plain.charges)


def _problem(wanted: Sequence[Wanted], market: Market, *, begun: Sequence[PurchaseLine]) -> PurchaseProblem:
    goods: Counter[str] = Counter()
    for line in begun:
        goods[line.pack.supplier] += line.total.cents
    return PurchaseProblem(
        today=market.today,
        demands=tuple(Demand(one.material, one.quantity, one.needed) for one in wanted),
        packs=market.packs,
        suppliers=market.suppliers,
        currency=market.currency,
        begun=tuple(Begun(key, Money(cents, market.currency)) for key, cents in sorted(goods.items())),
        undivided=True,
    )


def _cut(
    wanted: Wanted, market: Market, *, seconds: float, clock: Clock
) -> tuple[list[PurchaseLine], list[Shortage]]:
    found: list[list[PurchaseLine]] = []
    offers = market.offers(wanted.material)
    for key, packs in sorted(offers.items()):
        plan = plan_cuts(cut_problem(packs, wanted.pieces), seconds=seconds / len(offers), clock=clock)
        if plan.status in (Status.OPTIMAL, Status.FEASIBLE):
            found.append(list(_lines(wanted, plan, packs, supplier=market.supplier(key), market=market)))
    if not found:
        reason = "The pieces are longer than any roll on sale." if offers else "Nobody sells it."
        return [], [Shortage(wanted.material, wanted.needed, wanted.quantity, None, reason)]
    best = min(found, key=lambda lines: (any(line.is_late for line in lines), _cost(lines)))
    late = [line for line in best if line.is_late]
    return best, [_late(wanted, late[0])] if late else []


def cut_problem(packs: Sequence[Pack], pieces: Mapping[int, int]) -> CutProblem:
    """Return the problem of cutting `pieces` (count by nanometres) from the rolls that `packs` are."""
    return CutProblem(
        rolls=tuple(Roll(pack.name, pack.size, pack.price.cents) for pack in packs),
        pieces=tuple(Piece(str(length), length, count) for length, count in sorted(pieces.items())),
    )


def _lines(
    wanted: Wanted, plan: CutPlan, packs: Sequence[Pack], *, supplier: Supplier, market: Market
) -> Iterator[PurchaseLine]:
    broken = verify_cuts(cut_problem(packs, wanted.pieces), plan)
    if broken:
        raise AssertionError(f"the cut plan breaks its rules: {broken}")
    rolls: Counter[str] = Counter()
    cut: Counter[str] = Counter()
    for each in plan.cuts:
        rolls[each.roll] += each.times
        cut[each.roll] += each.times * sum(int(name) * count for name, count in each.pieces.items())
    by_name = {pack.name: pack for pack in packs}
    for name in sorted(rolls):
        pack = by_name[name]
        yield PurchaseLine(
            material=wanted.material,
            needed=wanted.needed,
            quantity=cut[name],
            pack=pack,
            packs=rolls[name],
            unit_price=pack.price,
            total=pack.price * rolls[name],
            order_by=order_by(wanted.needed, supplier),
            arrives=arrival(market.today, supplier),
        )


def _late(wanted: Wanted, line: PurchaseLine) -> Shortage:
    reason = f"{line.pack.supplier} can bring it by the evening of {line.arrives.isoformat()}."
    return Shortage(wanted.material, wanted.needed, wanted.quantity, line.arrives, reason)


def _cost(lines: Sequence[PurchaseLine]) -> Money:
    return Money(sum(line.total.cents for line in lines), lines[0].total.currency)
