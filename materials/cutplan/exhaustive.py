"""The very best plan of a small cut problem, by going through all that can be left to cut. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from materials.cutplan.whole import Layout, Pattern, WholeProblem

MOST_STATES = 2_000
MOST_STEPS = 30_000
MOST_PIECES = 300

State = tuple[tuple[int, ...], tuple[int | None, ...]]
"""Pieces still to cut by size, and stock still to take."""


@dataclass(frozen=True, slots=True)
class Finding:
    """What the search proved: the best layouts, or None where no plan exists."""

    layouts: list[Layout] | None


class _TooLarge(Exception):
    pass


def search_all(problem: WholeProblem) -> Finding | None:
    """Return the plan of least cost and, among those, most usable leftover; None where it is too large."""
    states = math.prod(count + 1 for count in problem.counts)
    if sum(problem.counts) > MOST_PIECES or states > MOST_STATES:
        return None
    try:
        return Finding(_Search(problem).run())
    except _TooLarge:
        return None


@dataclass(frozen=True, slots=True)
class _Best:
    """The least (cost, usable leftover negative) from a state on, and the roll that starts it."""

    cost: int
    usable: int
    stock: int = -1
    pattern: Pattern = ()


class _Search:
    """Remembers the best way on from every state; a state's longest piece lies in the next roll."""

    def __init__(self, problem: WholeProblem) -> None:
        self.problem = problem
        self.longest = max(stock.room for stock in problem.stocks)
        self.known: dict[State, _Best | None] = {}
        self.steps = 0

    def run(self) -> list[Layout] | None:
        """Return the best plan's layouts; None where the stock runs out whatever one does."""
        state: State = (self.problem.counts, tuple(stock.available for stock in self.problem.stocks))
        best = self._from(state)
        if best is None:
            return None
        times: dict[tuple[int, Pattern], int] = {}
        while best is not None and best.pattern:
            times[best.stock, best.pattern] = times.get((best.stock, best.pattern), 0) + 1
            state = self._after(state, best.stock, best.pattern)
            best = self._from(state)
        return [Layout(stock, pattern, count) for (stock, pattern), count in times.items()]

    def _from(self, state: State) -> _Best | None:
        counts, available = state
        if not any(counts):
            return _Best(0, 0)
        if state in self.known:
            return self.known[state]
        best: _Best | None = None
        for pattern, filled in self._patterns(counts):
            for index, stock in enumerate(self.problem.stocks):
                if stock.room < filled or available[index] == 0:
                    continue
                self.steps += 1
                if self.steps > MOST_STEPS:
                    raise _TooLarge
                rest = self._from(self._after(state, index, pattern))
                if rest is None:
                    continue
                cost = rest.cost + stock.cost
                usable = rest.usable - self.problem.usable_left(stock, filled)
                if best is None or (cost, usable) < (best.cost, best.usable):
                    best = _Best(cost, usable, index, pattern)
        self.known[state] = best
        return best

    def _patterns(self, counts: tuple[int, ...]) -> Iterator[tuple[Pattern, int]]:
        """Yield every pattern that holds the longest piece left, with the room it takes."""
        first = next(index for index, count in enumerate(counts) if count)

        def extend(index: int, pattern: Pattern, filled: int) -> Iterator[tuple[Pattern, int]]:
            if index == len(counts):
                yield pattern, filled
                return
            size = self.problem.sizes[index]
            for taken in range(min(counts[index], (self.longest - filled) // size), -(index != first), -1):
                longer = (*pattern, (index, taken)) if taken else pattern
                yield from extend(index + 1, longer, filled + taken * size)

        yield from extend(first, (), 0)

    @staticmethod
    def _after(state: State, stock: int, pattern: Pattern) -> State:
        counts, available = list(state[0]), list(state[1])
        for index, taken in pattern:
            counts[index] -= taken
        left = available[stock]
        if left is not None:
            available[stock] = left - 1
        return tuple(counts), tuple(available)
