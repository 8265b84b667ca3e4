"""What to buy, from whom and by when: the cheapest mix of packs and suppliers, with its bound. Pure."""

from __future__ import annotations

from materials.ordering.books import books_of
from materials.ordering.cheapest import Effort
from materials.ordering.choosing import choose
from materials.ordering.laying import charges_of, lines_of, shortages_of, told
from materials.ordering.netting import net_demands
from materials.ordering.offers import may_stand_below, rows_of
from materials.ordering.plan import PurchaseLine, PurchasePlan, Shortage, Status
from materials.ordering.problem import PurchaseProblem
from projects.quantities.money import Money

__all__ = ["STEPS", "plan_purchases", "told"]

STEPS = 200_000


def plan_purchases(problem: PurchaseProblem, *, steps: int = STEPS) -> PurchasePlan:
    """Return the plan of least cost; of equally cheap ones that of the largest packs, then by supplier.

    Packs that can come in time go before cheaper ones that cannot; where none can, the first to arrive are
    bought and the shortage named. What is too much in whole packs serves the material's later days. After
    about so many `steps` of the search the best plan so far is the answer, with the bound reached.
    """
    netting = net_demands(problem)
    below = may_stand_below(problem, netting.nets)
    chosen = choose(books_of(problem, rows_of(problem, netting.nets), below, Effort(steps)))
    lines: list[PurchaseLine] = []
    shortages: list[Shortage] = []
    for material in problem.materials:
        nets = [net for net in netting.nets if net.material == material]
        packs = {pack: number for pack, number in chosen.packs.items() if pack.material == material}
        bought = list(lines_of(problem, nets, packs)) if packs else []
        lines += bought
        shortages += shortages_of(problem, nets, bought)
    charges = tuple(charges_of(problem, lines))
    cost = sum(line.total.cents for line in lines)
    cost += sum(charge.freight.cents + charge.missing.cents for charge in charges)
    return PurchasePlan(
        status=Status.OPTIMAL if cost == chosen.bound else Status.FEASIBLE,
        cost=Money(cost, problem.currency),
        bound=Money(chosen.bound, problem.currency),
        nets=netting.nets,
        lines=tuple(lines),
        losses=netting.losses,
        shortages=tuple(shortages),
        charges=charges,
    )
