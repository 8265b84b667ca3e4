"""Is there a plan within the target that uses only these columns: branch and bound, proven exactly. Pure.

Source: branching on which sizes lie together, Ryan and Foster (1981); here it strikes out listed columns.
"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Sequence

from materials.cutplan.bound import Kind, cheapest_cover
from materials.cutplan.columns import Column, Rest
from materials.cutplan.generate import Late
from materials.cutplan.master import WHOLE, Master
from materials.cutplan.narrow import least_worths
from materials.cutplan.whole import Layout, Pattern, WholeProblem

MOST_NODES = 500
STRUCK_OUT_ENOUGH = 5
"""A fifth of the columns struck out is reason to solve again before branching."""

Shares = dict[Column, int]


class Branching:
    """The search, and whether it came to its end: then to have found nothing is a proof."""

    def __init__(self, problem: WholeProblem, *, target: int, is_late: Late) -> None:
        self.problem = problem
        self.target = target
        self.is_late = is_late
        self.nodes = 0
        self.is_complete = True

    def run(self, rest: Rest, columns: Sequence[Column], *, spent: int = 0) -> list[Layout] | None:
        """Return layouts that cut the rest exactly from `columns`, within the target; None: none found."""
        if rest.is_done():
            return []
        self.nodes += 1
        if self.nodes > MOST_NODES or self.is_late():
            self.is_complete = False
            return None
        narrowed = self._narrowed(rest, columns, target=self.target - spent)
        if narrowed is None:
            return None
        columns, shares = narrowed
        pair = _undecided_pair(rest, shares)
        if pair is None:
            return _whole_plan(rest, shares) or self._with_or_without(rest, columns, shares, spent=spent)
        found = self.run(rest, _together(rest, columns, pair), spent=spent)
        return found if found is not None else self.run(rest, _apart(columns, pair), spent=spent)

    def _narrowed(
        self, rest: Rest, columns: Sequence[Column], *, target: int
    ) -> tuple[list[Column], Shares] | None:
        """Return the columns that can be in a plan, and their shares; None: there is no such plan."""
        while True:
            usable = [column for column in columns if rest.allows(column)]
            master = Master(self.problem, rest, exactly=True)
            master.add(usable)
            advice = master.solve()
            values = [_worth(column.pattern, advice.weights) for column in usable]
            worths = [0] * len(self.problem.stocks)
            for column, value in zip(usable, values, strict=True):
                worths[column.stock] = max(worths[column.stock], value)
            floors = self._floors(rest, advice.weights, worths=worths, target=target)
            if floors is None:
                return None
            columns = [c for c, value in zip(usable, values, strict=True) if value >= floors[c.stock]]
            if (len(usable) - len(columns)) * STRUCK_OUT_ENOUGH < len(usable):
                return columns, master.shares()

    def _floors(
        self, rest: Rest, weights: Sequence[int], *, worths: Sequence[int], target: int
    ) -> Sequence[int] | None:
        """Return what a column must be worth at least, by stock; None: no plan is within `target`."""
        need = sum(weight * count for weight, count in zip(weights, rest.counts, strict=True))
        kinds = [
            Kind(worth, stock.cost, left)
            for worth, stock, left in zip(worths, self.problem.stocks, rest.available, strict=True)
        ]
        cover = cheapest_cover(need, kinds)
        if cover is None or cover.cost > target:
            return None
        floors = least_worths(self.problem, rest, weights, worths=worths, target=target)
        return [-(1 << 200)] * len(worths) if floors is None else floors

    def _with_or_without(
        self, rest: Rest, columns: Sequence[Column], shares: Shares, *, spent: int
    ) -> list[Layout] | None:
        """Try the column of the largest broken share once more, then without any more of it."""
        column = max(shares, key=lambda c: (shares[c] % WHOLE, shares[c]))
        once = Layout(column.stock, column.pattern, 1)
        cost = self.problem.stocks[column.stock].cost
        found = self.run(rest.after([once]), columns, spent=spent + cost)
        if found is not None:
            return [once, *found]
        return self.run(rest, [other for other in columns if other != column], spent=spent)


def _worth(pattern: Pattern, weights: Sequence[int]) -> int:
    return sum(weights[index] * count for index, count in pattern)


def _whole_plan(rest: Rest, shares: Shares) -> list[Layout] | None:
    """Return the shares as layouts where they are a plan already."""
    if any(share % WHOLE for share in shares.values()):
        return None
    layouts = [Layout(c.stock, c.pattern, share // WHOLE) for c, share in shares.items()]
    return layouts if rest.after(layouts).is_done() else None


def _undecided_pair(rest: Rest, shares: Shares) -> tuple[int, int] | None:
    """Return (a size that is wanted once, another) that lie together in about half a roll; None: no pair."""
    together: Counter[tuple[int, int]] = Counter()
    for column, share in shares.items():
        sizes = [index for index, _ in column.pattern]
        for pair in itertools.permutations(sizes, 2):
            together[pair] += share if rest.counts[pair[0]] == 1 else 0
    undecided = [
        (abs(share - WHOLE // 2), rest.counts[pair[1]] > 1, pair)
        for pair, share in together.items()
        if 0 < share < WHOLE - 1
    ]
    return min(undecided)[2] if undecided else None


def _together(rest: Rest, columns: Sequence[Column], pair: tuple[int, int]) -> list[Column]:
    """Return the columns but those that hold one alone that has to lie with the other."""
    alone = [[True, False], [False, True]] if rest.counts[pair[1]] == 1 else [[True, False]]
    return [column for column in columns if _held(column, pair) not in alone]


def _apart(columns: Sequence[Column], pair: tuple[int, int]) -> list[Column]:
    """Return the columns but those that hold both."""
    return [column for column in columns if _held(column, pair) != [True, True]]


def _held(column: Column, pair: tuple[int, int]) -> list[bool]:
    pieces = dict(column.pattern)
    return [index in pieces for index in pair]
