"""What to buy for a set of needs: pieces from the cheapest rolls, else the cheapest packs. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from materials.cutplan.plan import CutPlan, Status
from materials.cutplan.problem import CutProblem, Piece, Roll
from materials.cutplan.solve import Clock, plan_cuts
from materials.cutplan.verify import verify as verify_cuts
from materials.ordering.plan import Charge, PurchaseLine, Shortage
from materials.ordering.problem import Demand, Pack, PurchaseProblem, Supplier
from materials.ordering.solve import plan_purchases
from materials.ordering.verify import verify
from materials.ordering.workdays import arrival, order_by
from projects.quantities.money import Money

PARCEL = "all strips"


@dataclass(frozen=True, slots=True)
class Wanted:
    """One material for one delivery. `pieces` count what is cut, by length in nanometres.

    Where there is a `lap`, a piece may be made of two that overlap by it; of `pans`, counted among the
    pieces, none may.
    """

    material: str
    needed: date
    quantity: int
    pieces: Mapping[int, int] = field(default_factory=dict)
    pans: Mapping[int, int] = field(default_factory=dict)
    lap: int = 0


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
    """Return what to buy. Each material has `seconds` of `clock` for its cut plans.

    Each material goes whole to one supplier, for its demand is covered by the lines of one order: to where
    all of them together come out cheapest, with freight and minimums. What is cut enters as one parcel per
    supplier, at what his cheapest rolls for it cost.
    """
    parcels: dict[tuple[str, str], tuple[PurchaseLine, ...]] = {}
    for one in wanted:
        if one.pieces:
            for supplier, rolls in _cut(one, market, seconds=seconds, clock=clock):
                parcels[one.material, supplier] = rolls
    problem = _problem(wanted, market, parcels)
    plan = plan_purchases(problem)
    broken = verify(problem, plan)
    if broken:
        raise AssertionError(f"the purchase plan breaks its rules: {broken}")
    lines = [
        each for line in plan.lines for each in parcels.get((line.material, line.pack.supplier), (line,))
    ]
    sold = {pack.material for pack in market.packs}
    cut = {one.material: one for one in wanted if one.pieces}
    shortages = tuple(
        _of_parcel(short, cut[short.material], sold) if short.material in cut else short
        for short in plan.shortages
    )
    return Bought(tuple(lines), shortages, plan.charges)


def _problem(
    wanted: Sequence[Wanted], market: Market, parcels: Mapping[tuple[str, str], Sequence[PurchaseLine]]
) -> PurchaseProblem:
    cut = {one.material for one in wanted if one.pieces}
    return PurchaseProblem(
        today=market.today,
        demands=tuple(Demand(one.material, 1 if one.pieces else one.quantity, one.needed) for one in wanted),
        packs=(
            *(pack for pack in market.packs if pack.material not in cut),
            *(
                Pack(material, supplier, PARCEL, 1, _cost(lines))
                for (material, supplier), lines in parcels.items()
            ),
        ),
        suppliers=market.suppliers,
        currency=market.currency,
        undivided=True,
    )


def _of_parcel(short: Shortage, wanted: Wanted, sold: Collection[str]) -> Shortage:
    """Return the shortage of a parcel as one of the strips in it."""
    if short.comes is None and wanted.material in sold:
        return replace(short, quantity=wanted.quantity, reason="The pieces are longer than any roll on sale.")
    return replace(short, quantity=wanted.quantity)


def _cut(
    wanted: Wanted, market: Market, *, seconds: float, clock: Clock
) -> Iterator[tuple[str, tuple[PurchaseLine, ...]]]:
    """Yield each supplier who has rolls for all pieces, with the cheapest lines found there."""
    offers = market.offers(wanted.material)
    for key, packs in sorted(offers.items()):
        found = []
        choices = list(_at_breaks(packs))
        each_seconds = seconds / len(offers) / len(choices)
        for problem in (_cut_problem(priced, wanted) for priced in choices):
            plan = plan_cuts(problem, seconds=each_seconds, clock=clock)
            broken = verify_cuts(problem, plan)
            if broken:
                raise AssertionError(f"the cut plan breaks its rules: {broken}")
            if plan.status in (Status.OPTIMAL, Status.FEASIBLE):
                supplier = market.supplier(key)
                rolls = _rolls(problem, plan)
                found.append(tuple(_lines(wanted, rolls, packs, supplier=supplier, today=market.today)))
        if found:
            yield key, min(found, key=lambda lines: _cost(lines).cents)


def _at_breaks(packs: Sequence[Pack]) -> Iterator[tuple[Pack, ...]]:
    """Yield the packs at their first price, then each of them at each of its breaks: it may be reached."""
    yield tuple(packs)
    for place, pack in enumerate(packs):
        for step in pack.breaks:
            yield (*packs[:place], replace(pack, price=step.price, breaks=()), *packs[place + 1 :])


def _cut_problem(packs: Sequence[Pack], wanted: Wanted) -> CutProblem:
    """Return the problem of cutting what is wanted from the rolls that `packs` are."""
    pans = Counter(wanted.pans) if wanted.lap else Counter[int]()
    strips = Counter(wanted.pieces) - pans
    return CutProblem(
        rolls=tuple(Roll(pack.name, pack.size, pack.price.cents) for pack in packs),
        pieces=(
            *(Piece(str(nm), nm, count, may_splice=bool(wanted.lap)) for nm, count in sorted(strips.items())),
            *(Piece(f"{nm} in one piece", nm, count) for nm, count in sorted(pans.items())),
        ),
        lap=wanted.lap,
    )


def _rolls(problem: CutProblem, plan: CutPlan) -> dict[str, tuple[int, int]]:
    """Return how many rolls of each kind a plan takes, and how much is cut from them, in nanometres."""
    lengths = {piece.name: int(piece.length) for piece in problem.pieces}
    lengths |= {name: int(length) for splice in plan.splices for name, length in splice.parts.items()}
    found: dict[str, tuple[int, int]] = {}
    for each in plan.cuts:
        rolls, cut = found.get(each.roll, (0, 0))
        cut += each.times * sum(lengths[name] * count for name, count in each.pieces.items())
        found[each.roll] = rolls + each.times, cut
    return found


def _lines(
    wanted: Wanted,
    rolls: Mapping[str, tuple[int, int]],
    packs: Sequence[Pack],
    *,
    supplier: Supplier,
    today: date,
) -> Iterator[PurchaseLine]:
    """Yield the rolls that a plan takes, each at what so many of them cost, none below its minimum."""
    for pack in sorted(packs, key=lambda pack: pack.name):
        if pack.name in rolls:
            taken, cut = rolls[pack.name]
            number = max(taken, pack.minimum)
            yield PurchaseLine(
                material=wanted.material,
                needed=wanted.needed,
                quantity=cut,
                pack=pack,
                packs=number,
                unit_price=pack.unit_price(number),
                total=pack.unit_price(number) * number,
                order_by=order_by(wanted.needed, supplier),
                arrives=arrival(today, supplier),
            )


def _cost(lines: Sequence[PurchaseLine]) -> Money:
    return Money(sum(line.total.cents for line in lines), lines[0].total.currency)
