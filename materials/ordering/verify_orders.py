"""Do a plan's orders hold: prices, freight, minimums, sums? Checked from problem and plan alone. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

from materials.ordering.plan import NetDemand, PurchaseLine, PurchasePlan, Status
from materials.ordering.problem import Pack, PurchaseProblem
from materials.ordering.walk import arrivals_of, bought_in, walk

Needs = Mapping[str, Mapping[date, int]]


def order_faults(problem: PurchaseProblem, plan: PurchasePlan, needs: Needs) -> Iterator[str]:
    """Yield what is wrong with the orders and the sums of `plan`, a sentence each."""
    yield from _mispriced(plan)
    yield from _mischarged(problem, plan)
    yield from _too_low(problem, plan)
    yield from _divided(problem, plan)
    yield from _miscounted(plan)
    if plan.status is Status.OPTIMAL:
        for line in plan.lines:
            yield from _needless(problem, plan, line, needs[line.material])


def _kinds(lines: Sequence[PurchaseLine]) -> Counter[Pack]:
    """Return how many packs of each kind all lines come to."""
    kinds: Counter[Pack] = Counter()
    for line in lines:
        kinds[line.pack] += line.packs
    return kinds


def _price(pack: Pack, packs: int) -> int:
    price = pack.price
    for step in sorted(pack.breaks, key=lambda step: step.packs):
        price = step.price if packs >= step.packs else price
    return price.cents


def _mispriced(plan: PurchasePlan) -> Iterator[str]:
    kinds = _kinds(plan.lines)
    for line in plan.lines:
        price = _price(line.pack, kinds[line.pack])
        if line.unit_price.cents != price or line.total.cents != price * line.packs:
            yield f"{line.packs} x {line.pack.name} is priced wrongly."
        if kinds[line.pack] < line.pack.minimum or not 0 <= line.quantity <= line.bought or not line.packs:
            yield f"{line.packs} x {line.pack.name} is too few."


def _goods(problem: PurchaseProblem, kinds: Mapping[Pack, int]) -> dict[str, int]:
    """Return the cents of goods in each order; no order, no entry."""
    goods: dict[str, int] = {}
    for pack, packs in kinds.items():
        if packs:
            goods[pack.supplier] = goods.get(pack.supplier, 0) + _price(pack, packs) * packs
    return goods


def _beside(problem: PurchaseProblem, goods: Mapping[str, int]) -> dict[str, tuple[int, int]]:
    """Return each order's freight and what it lacks to the minimum, in cents."""
    return {
        supplier.key: (supplier.freight.cents, max(0, supplier.minimum.cents - goods[supplier.key]))
        for supplier in problem.suppliers
        if supplier.key in goods
    }


def _mischarged(problem: PurchaseProblem, plan: PurchasePlan) -> Iterator[str]:
    goods = _goods(problem, _kinds(plan.lines))
    beside = _beside(problem, goods)
    told = {
        charge.supplier: (charge.goods.cents, charge.freight.cents, charge.missing.cents)
        for charge in plan.charges
    }
    for key in sorted(told.keys() | goods.keys()):
        if key not in goods or key not in told or told[key] != (goods[key], *beside[key]):
            yield f"The charges of {key} do not add up."
    for charge in plan.charges:
        if bool(charge.told) != bool(charge.missing.cents):
            yield f"The order to {charge.supplier} is below the minimum, and nothing says so."


def _too_low(problem: PurchaseProblem, plan: PurchasePlan) -> Iterator[str]:
    """Tell orders below a minimum though everything in them has another seller who takes it."""
    nets = [net for net in plan.nets if net.net]
    reached = {supplier.key for supplier in problem.suppliers if _is_reached(problem, nets, supplier.key)}
    for charge in plan.charges:
        key = charge.supplier
        if not charge.missing.cents:
            continue
        wanted = [net for net in nets if key in _sellers(problem, nets, net)]
        if all(
            any(
                _takes(problem, net.material, other, reached)
                for other in _sellers(problem, nets, net) - {key}
            )
            for net in wanted
        ):
            yield f"The order to {key} is below the minimum, though others sell all that it could hold."


def _sellers(problem: PurchaseProblem, nets: Sequence[NetDemand], net: NetDemand) -> set[str]:
    first = min(other.needed for other in nets if other.material == net.material)
    day = first if problem.undivided else net.needed
    arrivals = arrivals_of(problem, net.material)
    latest = max(min(arrivals.values(), default=date.max), date.fromordinal(day.toordinal() - 1))
    return {key for key, comes in arrivals.items() if comes <= latest}


def _offers(problem: PurchaseProblem, material: str, key: str) -> list[Pack]:
    return [pack for pack in problem.packs if pack.material == material and pack.supplier == key]


def _is_reached(problem: PurchaseProblem, nets: Sequence[NetDemand], key: str) -> bool:
    total = 0
    for material in sorted({net.material for net in nets}):
        own = [n for n in nets if n.material == material and key in _sellers(problem, nets, n)]
        quantity = sum(net.net for net in own)
        costs = []
        for pack in _offers(problem, material, key) if quantity else ():
            packs = max(pack.minimum, (quantity + pack.size - 1) // pack.size)
            costs.append(_price(pack, packs) * packs)
        total += min(costs, default=0)
    minimum = next(supplier.minimum.cents for supplier in problem.suppliers if supplier.key == key)
    return total >= minimum


def _takes(problem: PurchaseProblem, material: str, key: str, reached: set[str]) -> bool:
    supplier = next(supplier for supplier in problem.suppliers if supplier.key == key)
    prices = [
        p for pack in _offers(problem, material, key) for p in (pack.price, *(b.price for b in pack.breaks))
    ]
    return not supplier.minimum.cents or (key in reached and all(price.cents for price in prices))


def _divided(problem: PurchaseProblem, plan: PurchasePlan) -> Iterator[str]:
    if problem.undivided:
        for material in problem.materials:
            if len({line.pack.supplier for line in plan.lines if line.material == material}) > 1:
                yield f"{material} comes from more than one supplier."


def _cost(problem: PurchaseProblem, kinds: Mapping[Pack, int]) -> int:
    goods = _goods(problem, kinds)
    return sum(goods.values()) + sum(
        freight + missing for freight, missing in _beside(problem, goods).values()
    )


def _needless(
    problem: PurchaseProblem, plan: PurchasePlan, line: PurchaseLine, needs: Mapping[date, int]
) -> Iterator[str]:
    """Tell a line of which one pack fewer, or below the minimum none, would do and be no dearer."""
    kinds = _kinds(plan.lines)
    gone = 1 if kinds[line.pack] > line.pack.minimum else kinds[line.pack]
    lines = tuple(
        replace(other, packs=other.packs - 1 if gone == 1 else 0)
        if (other is line or (gone > 1 and other.pack == line.pack))
        else other
        for other in plan.lines
    )
    fewer = _kinds(lines)
    low = {
        key
        for key, (_, missing) in _beside(problem, _goods(problem, fewer)).items()
        if missing and not any(c.supplier == key and c.missing.cents for c in plan.charges)
    }
    stacks = bought_in(problem, replace(plan, lines=lines), line.material)
    mornings = walk(problem, needs, stacks, reserve=problem.reserve_of(line.material))
    if not low and _cost(problem, fewer) <= _cost(problem, kinds) and not any(m.missing for m in mornings):
        yield f"Fewer than {line.packs} x {line.pack.name} would do for {line.needed}."


def _miscounted(plan: PurchasePlan) -> Iterator[str]:
    cost = sum(line.total.cents for line in plan.lines)
    cost += sum(charge.freight.cents + charge.missing.cents for charge in plan.charges)
    if plan.cost.cents != cost:
        yield f"The cost is {cost} cents, not {plan.cost.cents}."
    if plan.bound.cents > plan.cost.cents:
        yield f"The bound {plan.bound.cents} is above the cost {plan.cost.cents}."
    if (plan.status is Status.OPTIMAL) != (plan.bound == plan.cost):
        yield f"{plan.status} does not go with cost and bound."
