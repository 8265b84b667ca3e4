"""Small weeks whose suppliers' minimums bind: how near their plans come to the bound, and how quickly."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from config.benches.figure import Figure
from config.benches.machine import Spent, spent
from materials.ordering.plan import PurchasePlan
from materials.ordering.problem import Demand, Pack, PriceBreak, PurchaseProblem, Supplier
from materials.ordering.solve import plan_purchases
from materials.ordering.verify import verify
from projects.quantities.money import Money

TODAY, NEEDED = date(2026, 6, 3), date(2026, 6, 15)
MILLION = 1_000_000
# materials, suppliers, weeks, seconds allowed for the slowest
WEEKS = ((12, 4, 30, 1.0), (12, 6, 30, 1.0), (27, 6, 5, 3.0))


def measure(*, small: bool) -> Iterator[Figure]:
    """Plan weeks of at most 12 houses, then some of the whole catalogue; judge the worst of each."""
    for materials, suppliers, weeks, seconds in WEEKS[:1] if small else WEEKS:
        planned = [_planned(week(materials, suppliers, seed=seed)) for seed in range(2 if small else weeks)]
        told = f"minimums, {materials} materials from {suppliers} suppliers"
        yield Figure(f"{told}: cost over bound", max(_ratio(plan) for _, plan, _ in planned), "x", 1)
        slowest = max((took for *_, took in planned), key=lambda took: took.cpu)
        yield Figure.of_time(f"{told}: slowest", slowest, seconds)
        dearer = sum(_binds(problem, plan) for problem, plan, _ in planned)
        yield Figure(f"{told}: a minimum binds", dearer, f"of {len(planned)}")


def _planned(problem: PurchaseProblem) -> tuple[PurchaseProblem, PurchasePlan, Spent]:
    """Return the problem, its plan and what that took. Raises ValueError for a plan that does not hold."""
    plans: list[PurchasePlan] = []
    took = spent(lambda: plans.append(plan_purchases(problem)))
    faults = verify(problem, plans[0])
    if faults:
        raise ValueError(faults[0])
    return problem, plans[0], took


def _ratio(plan: PurchasePlan) -> float:
    return plan.cost.cents / plan.bound.cents


def _binds(problem: PurchaseProblem, plan: PurchasePlan) -> bool:
    """Return whether the plan costs more than with suppliers who take any order."""
    free = tuple(replace(supplier, minimum=Money(0)) for supplier in problem.suppliers)
    return plan_purchases(replace(problem, suppliers=free)).cost.cents < plan.cost.cents


def week(materials: int, suppliers: int, *, seed: int) -> PurchaseProblem:
    """Return a week of 1 to 12 houses: packs of several sizes, breaks, freight, minimums. The seed decides.

    A supplier's minimum is up to seven tenths of what everything costs, so that most orders stand too low.
    """
    chance = random.Random(seed)  # noqa: S311  # nosec B311 - prices, not secrets
    houses = chance.randint(1, 12)
    demands: list[Demand] = []
    packs: list[Pack] = []
    total = 0.0
    for number in range(materials):
        # some are counted, some measured in millions of their base unit
        unit, size = chance.choice([1, 1, 1, MILLION]), chance.choice([1, 10, 12, 20, 100])
        cents = chance.randint(400, 9_000)
        share = houses * chance.uniform(0.1, 1.5)
        total += cents * share
        material = f"material {number}"
        demands.append(Demand(material, max(1, int(share * size * unit)), NEEDED))
        sellers = [key for key in range(suppliers) if chance.random() < 0.75] or [0]
        for key in sellers:
            packs += _packs(chance, material, f"supplier {key}", size=size * unit, cents=cents)
    return PurchaseProblem(
        TODAY,
        tuple(demands),
        packs=tuple(packs),
        suppliers=tuple(
            Supplier(
                f"supplier {key}",
                chance.randint(0, 2),
                minimum=Money(int(total * chance.choice([0, 0.2, 0.35, 0.5, 0.7]))),
                freight=Money(chance.choice([0, 1_500, 4_500, 9_000])),
            )
            for key in range(suppliers)
        ),
        undivided=True,
    )


def _packs(chance: random.Random, material: str, supplier: str, *, size: int, cents: int) -> Iterator[Pack]:
    """Yield one to three sizes of pack, large ones a little cheaper, some with a break."""
    for times in chance.sample([1, 3, 6, 12], chance.randint(1, 3)):
        price = int(cents * times * chance.uniform(0.85, 1.1) * (0.95 if times > 3 else 1))
        steps = (PriceBreak(chance.randint(2, 6), Money(price * 93 // 100)),)
        reached = steps if chance.random() < 0.4 else ()
        yield Pack(material, supplier, f"of {times}", size * times, Money(price), reached)
