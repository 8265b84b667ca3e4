"""What is left to cut and to cut from, and one roll's filling as a column of the linear program. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from materials.cutplan.whole import Layout, Pattern, WholeProblem


class Column(NamedTuple):
    """One roll or offcut, cut after one pattern."""

    stock: int
    pattern: Pattern


@dataclass(frozen=True, slots=True)
class Rest:
    """Pieces still to cut, by size, and stock still to take (None: as much as wanted)."""

    counts: tuple[int, ...]
    available: tuple[int | None, ...]

    @classmethod
    def of(cls, problem: WholeProblem) -> Rest:
        """Return all of the problem."""
        return cls(problem.counts, tuple(stock.available for stock in problem.stocks))

    def is_done(self) -> bool:
        """Return whether nothing is left to cut."""
        return not any(self.counts)

    def allows(self, column: Column) -> bool:
        """Return whether the column can still be cut once."""
        if self.available[column.stock] == 0:
            return False
        counts = self.counts
        for index, count in column.pattern:  # noqa: SIM110 - asked a million times: all() takes twice as long
            if counts[index] < count:
                return False
        return True

    def times(self, column: Column) -> int:
        """Return how often the column can still be cut without a piece or a roll too many."""
        times = min(self.counts[index] // count for index, count in column.pattern)
        left = self.available[column.stock]
        return times if left is None else min(times, left)

    def after(self, layouts: Iterable[Layout]) -> Rest:
        """Return what is left once `layouts` are cut."""
        counts, available = list(self.counts), list(self.available)
        for stock, pattern, times in layouts:
            for index, count in pattern:
                counts[index] -= count * times
            left = available[stock]
            if left is not None:
                available[stock] = left - times
        return Rest(tuple(counts), tuple(available))


def cost_of(problem: WholeProblem, layouts: Iterable[Layout]) -> int:
    """Return what the rolls of `layouts` cost, in cost units."""
    return sum(problem.stocks[layout.stock].cost * layout.times for layout in layouts)
