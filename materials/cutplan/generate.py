"""The cheapest shares of all columns there could be, found by asking for those that help. Pure.

Source: the column generation of Gilmore and Gomory (1961), with the bound of Farley (1990) taken over whole
numbers of rolls.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from materials.cutplan.bound import Kind, cheapest_cover
from materials.cutplan.columns import Column, Rest
from materials.cutplan.master import WEIGHT, WHOLE, Advice, Master, unit_of
from materials.cutplan.pricing import PriceTable
from materials.cutplan.whole import WholeProblem

COLUMNS_A_ROUND = 30
MOST_ROUNDS = 600
NOISE = WEIGHT >> 24
"""A gain below this is the solver's rounding."""

Late = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Relaxation:
    """The last `advice` and its shares, its columns, and a proven least cost (None: no plan exists).

    `proof` are the weights that prove the cost.
    """

    advice: Advice
    shares: dict[Column, int]
    columns: Sequence[Column]
    bound: int | None
    proof: Sequence[int]


def relax(
    problem: WholeProblem,
    rest: Rest,
    columns: Iterable[Column],
    *,
    known: int,
    limit: int,
    is_late: Late,
    full: bool = False,
) -> Relaxation:
    """Return the relaxation, solved as far as it can matter.

    That is until its value is within `known`, a proven bound or a cost that is as good, or (unless `full`)
    within the bound that it proves itself; or until it proves that the rest costs more than `limit`.
    """
    master = Master(problem, rest)
    master.add(column for column in columns if rest.allows(column))
    bound = 0
    proof: Sequence[int] = (0,) * len(problem.sizes)
    for _ in range(MOST_ROUNDS):
        advice = master.solve()
        enough = known if full else max(known, bound)
        if advice.value <= enough * WHOLE + 1 or is_late():
            break
        table = price_table(problem, rest, advice.weights)
        least = least_cost(problem, rest, advice.weights, table=table)
        if least is None:
            return Relaxation(advice, {}, (), None, ())
        if least > bound:
            bound, proof = least, advice.weights
        if bound > limit or not master.add(_helpful(problem, rest, advice, table=table)):
            break
    return Relaxation(advice, master.shares(), tuple(master.columns), bound, proof)


def price_table(problem: WholeProblem, rest: Rest, weights: Sequence[int]) -> PriceTable:
    """Return the table of what fits one roll or offcut of each kind at these weights."""
    rooms = [stock.room for stock in problem.stocks]
    return PriceTable(problem.sizes, rest.counts, weights=weights, rooms=rooms)


def least_cost(problem: WholeProblem, rest: Rest, weights: Sequence[int], *, table: PriceTable) -> int | None:
    """Return a proven least cost of cutting the rest, whatever the weights; None: no plan exists.

    Every roll holds at most its worth by the table, and all pieces together must be held: what whole numbers
    of rolls that takes is found exactly. The weights only decide how good the bound is.
    """
    need = sum(weight * count for weight, count in zip(weights, rest.counts, strict=True))
    kinds = [
        Kind(table.worth(stock.room), stock.cost, left)
        for stock, left in zip(problem.stocks, rest.available, strict=True)
    ]
    cover = cheapest_cover(need, kinds)
    return None if cover is None else cover.cost


def _helpful(problem: WholeProblem, rest: Rest, advice: Advice, *, table: PriceTable) -> list[Column]:
    """Return columns that are worth more than they cost."""
    unit = unit_of(problem)
    never = 1 << 62
    floors = [
        never if left == 0 else stock.cost * WEIGHT // unit + rent + NOISE
        for stock, left, rent in zip(problem.stocks, rest.available, advice.rents, strict=True)
    ]
    patterns = table.best_patterns(floors, most=COLUMNS_A_ROUND)
    return [Column(which, pattern) for which, pattern in patterns]
