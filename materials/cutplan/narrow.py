"""Which columns can a plan within a target cost use at all: often few enough to list every one. Pure.

Every roll of a plan falls short of being worth its price by a little; all together they may fall short by no
more than what lies between the bound and the target. A column that falls short by more is in no such plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from materials.cutplan.columns import Column, Rest
from materials.cutplan.pricing import PriceTable, no_values, raised
from materials.cutplan.whole import Pattern, Stock, WholeProblem

MOST_COLUMNS = 12_000
MOST_CELLS = 1 << 21


def useful_columns(
    problem: WholeProblem, rest: Rest, weights: Sequence[int], *, table: PriceTable, target: int
) -> list[Column] | None:
    """Return every column that a plan of at most `target` can use; None where they are too many to list.

    `table` is the price table of these weights, which are at least 0.
    """
    longest = max(table.rooms)
    worths = [table.worth(stock.room) for stock in problem.stocks]
    floors = least_worths(problem, rest, weights, worths=worths, target=target)
    if floors is None or (longest + 1) * (len(weights) + 1) > MOST_CELLS:
        return None
    search = _Search(problem, rest, weights, longest=longest)
    found: list[Column] = []
    for which, (stock, left, floor) in enumerate(zip(problem.stocks, rest.available, floors, strict=True)):
        if left == 0:
            continue
        for pattern in search.patterns(stock, floor):
            found.append(Column(which, pattern))
            if len(found) > MOST_COLUMNS:
                return None
    return found


def least_worths(
    problem: WholeProblem,
    rest: Rest,
    weights: Sequence[int],
    *,
    worths: Sequence[int],
    target: int,
) -> list[int] | None:
    """Return by stock what a column must be worth to be in a plan of at most `target`; None: nothing known.

    `worths` are the most that a column of each stock is worth. The best bargain among the unlimited rolls
    sets the price; stock that is worth more than it costs has a rent, which is lost where it stays unused.
    """
    priced = _price(problem, rest, worths)
    if priced is None:
        return None
    worth, cost = priced
    need = sum(weight * count for weight, count in zip(weights, rest.counts, strict=True)) * cost
    rents = [
        max(0, most * cost - worth * stock.cost) for most, stock in zip(worths, problem.stocks, strict=True)
    ]
    slack = worth * target - need
    slack += sum(rent * (left or 0) for rent, left in zip(rents, rest.available, strict=True))
    return [
        -((slack - worth * stock.cost - rent) // cost)
        for stock, rent in zip(problem.stocks, rents, strict=True)
    ]


def _price(problem: WholeProblem, rest: Rest, worths: Sequence[int]) -> tuple[int, int] | None:
    """Return the (worth, cost) of the stock that gives most for its cost, unlimited ones first."""
    best: tuple[bool, int, int] | None = None
    for stock, left, worth in zip(problem.stocks, rest.available, worths, strict=True):
        if not stock.cost:
            if left is None and worth > 0:
                return None
            continue
        if best is None or (left is None, worth * best[2]) > (best[0], best[1] * stock.cost):
            best = (left is None, worth, stock.cost)
    return (0, 1) if best is None else best[1:]


class _Search:
    """Every pattern of at least some worth, found without ever turning into a dead end."""

    def __init__(self, problem: WholeProblem, rest: Rest, weights: Sequence[int], *, longest: int) -> None:
        self.pieces = list(zip(problem.sizes, rest.counts, weights, strict=True))
        values = no_values(longest)
        best_after = [values.tolist()]
        for size, count, weight in reversed(self.pieces):
            values = raised(values, size, count=count, weight=weight)
            best_after.append(values.tolist())
        self.best_after: list[list[int]] = best_after[-2::-1]

    def patterns(self, stock: Stock, floor: int) -> Iterator[Pattern]:
        """Yield every pattern, empty ones aside, that fits `stock` and is worth at least `floor`."""
        open_ends: list[tuple[int, int, int, Pattern]] = [(0, stock.room, floor, ())]
        while open_ends:
            index, room, lack, pattern = open_ends.pop()
            if index == len(self.pieces):
                if pattern:
                    yield pattern
                continue
            size, count, weight = self.pieces[index]
            for taken in range(min(count, room // size) + 1):
                left = room - taken * size
                if lack - taken * weight <= self.best_after[index][left]:
                    longer = (*pattern, (index, taken)) if taken else pattern
                    open_ends.append((index + 1, left, lack - taken * weight, longer))
