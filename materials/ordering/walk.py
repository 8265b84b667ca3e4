"""A walk through the days with what is there, by which `verify` checks a plan; it knows no planner. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple

from materials.ordering.plan import PurchasePlan
from materials.ordering.problem import PurchaseProblem, Supplier

ONE_DAY = timedelta(days=1)


@dataclass(slots=True)
class Stack:
    """Units that came on the evening of `came`; `owed` ones may serve the mornings before, too."""

    source: str
    left: int
    came: date = date.min
    closes: date = date.max
    owed: bool = False
    bought_for: date | None = None

    def turn(self, day: date) -> tuple[int, date, date]:
        """Return when `day` takes from it: what is there, what is owed, what is bought for that very day."""
        rank = 2 if self.bought_for == day else int(self.came >= day)
        return rank, self.closes, self.came


class Morning(NamedTuple):
    """A day with what need and reserve lack, and what the need alone does."""

    day: date
    missing: int
    unserved: int


def needs_of(problem: PurchaseProblem) -> dict[str, dict[date, int]]:
    """Return what is needed by material and day."""
    needs: dict[str, Counter[date]] = {}
    for demand in problem.demands:
        if demand.quantity:
            needs.setdefault(demand.material, Counter())[demand.needed] += demand.quantity
    return {material: dict(sorted(days.items())) for material, days in needs.items()}


def stock_of(problem: PurchaseProblem, material: str) -> list[Stack]:
    """Return lots and deliveries. A delivery that nothing ordered today beats is owed to earlier mornings."""
    beaten_after = min(arrivals_of(problem, material).values(), default=date.max)
    lots = [
        Stack(lot.name, lot.quantity, closes=lot.last_good or date.max)
        for lot in problem.lots
        if lot.material == material
    ]
    return lots + [
        Stack(d.reference, d.quantity, d.due, d.last_good or date.max, owed=d.due <= beaten_after)
        for d in problem.deliveries
        if d.material == material
    ]


def bought_in(problem: PurchaseProblem, plan: PurchasePlan, material: str) -> list[Stack]:
    """Return lots, deliveries, the plan's packs, and what it says can never be had."""
    packs = [purchase(line.bought, line.needed) for line in plan.lines if line.material == material]
    never = [
        purchase(shortage.quantity, shortage.needed)
        for shortage in plan.shortages
        if shortage.material == material and shortage.comes is None
    ]
    return stock_of(problem, material) + packs + never


def purchase(quantity: int, needed: date) -> Stack:
    """Return what is bought for the morning of `needed`."""
    return Stack("bought", quantity, needed - ONE_DAY, bought_for=needed)


def walk(
    problem: PurchaseProblem, needs: Mapping[date, int], stacks: Sequence[Stack], *, reserve: int
) -> Iterator[Morning]:
    """Yield each day with what is missing on it; takes the needs off the stacks.

    What is added to `stacks` between two days is there from the second one on.
    """
    for day, needed in needs.items():
        good = [s for s in stacks if (s.came < day or s.owed) and s.closes >= max(day, problem.today)]
        missing = needed + reserve - sum(stack.left for stack in good)
        need = needed
        for stack in sorted(good, key=lambda stack: stack.turn(day)):
            taken = min(need, stack.left)
            stack.left -= taken
            need -= taken
        yield Morning(day, max(0, missing), need)


def arrivals_of(problem: PurchaseProblem, material: str) -> dict[str, date]:
    """Return by supplier the first evening on which an order of today can be there."""
    return {
        pack.supplier: _first_arrival(problem, problem.supplier_of(pack))
        for pack in problem.packs
        if pack.material == material
    }


def working_days(supplier: Supplier, after: date, until: date) -> int:
    """Return the working days after `after`, up to and with `until`."""
    span = max(0, (until - after).days)
    return sum(is_worked(supplier, after + ONE_DAY * ahead) for ahead in range(1, span + 1))


def is_worked(supplier: Supplier, day: date) -> bool:
    """Return whether the supplier works on `day`."""
    return day.isoweekday() <= 5 and day not in supplier.holidays


def _first_arrival(problem: PurchaseProblem, supplier: Supplier) -> date:
    day = problem.today
    waiting = supplier.lead_days + (not is_worked(supplier, day))
    while waiting:
        day += ONE_DAY
        waiting -= is_worked(supplier, day)
    return day
