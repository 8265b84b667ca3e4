"""Close the gap between the best plan and the proven least cost, by the columns of a linear program. Pure."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Iterable, Sequence

from materials.cutplan.branch import Branching
from materials.cutplan.columns import Column, Rest, cost_of
from materials.cutplan.dive import dive
from materials.cutplan.generate import Late, Relaxation, price_table, relax
from materials.cutplan.master import Unsolved
from materials.cutplan.narrow import useful_columns
from materials.cutplan.pricing import is_too_large
from materials.cutplan.starts import fill_rest
from materials.cutplan.whole import Layout, WholeProblem

MOST_LISTINGS = 4
FEW_DIVES = 60
MANY_DIVES = 400


class Gap:
    """A better plan, once there is one, and a proven least cost (None: no plan exists) with its weights.

    `cost` is that of the best plan known so far, None where none is.
    """

    def __init__(self, problem: WholeProblem, cost: int | None, *, bound: int, is_late: Late) -> None:
        self.problem = problem
        self.rest = Rest.of(problem)
        self.cost = cost
        self.layouts: Sequence[Layout] | None = None
        self.bound: int | None = bound
        self.weights: Sequence[int] | None = None
        self.is_late = is_late
        self.grain = math.gcd(*(stock.cost for stock in problem.stocks)) or 1
        start = fill_rest(problem, self.rest) or []
        self.columns: Iterable[Column] = [Column(layout.stock, layout.pattern) for layout in start]

    @property
    def limit(self) -> int:
        """Return the most that a better plan may cost."""
        if self.cost is None:
            return max(stock.cost for stock in self.problem.stocks) * sum(self.problem.counts)
        return self.cost - self.grain

    def close(self) -> None:
        """Raise the bound and look for cheaper plans, quick methods first.

        Where the tables would be too large, or a program finds no answer, all stays as it is by then.
        """
        longest = max(stock.room for stock in self.problem.stocks)
        if is_too_large(self.problem.sizes, self.problem.counts, longest):
            return
        with contextlib.suppress(Unsolved):
            self._close_in()

    def _close_in(self) -> None:
        # any cheaper plan first: it comes sooner than the cheapest, and time may be short
        for target in (self.limit, None):
            self._relax(known=target)
            if self._is_open():
                self._dive(self.limit if target else self.bound or 0, most=FEW_DIVES)
        for _ in range(MOST_LISTINGS):
            if not self._is_open() or not self._search_lists(self._relax(known=0, full=True)):
                break
        while self._is_open() and self._dive(self.limit, most=MANY_DIVES):
            pass

    def _is_open(self) -> bool:
        return self.bound is not None and self.bound <= self.limit and not self.is_late()

    def _raise(self, bound: int | None, *, weights: Sequence[int] | None) -> None:
        if bound is None:
            self.bound = None
        elif self.bound is not None and bound > self.bound:
            self.bound, self.weights = bound, weights

    def _relax(self, *, known: int | None, full: bool = False) -> Relaxation:
        known = self.bound or 0 if known is None else known
        relaxation = relax(
            self.problem,
            self.rest,
            self.columns,
            known=known,
            limit=self.limit,
            is_late=self.is_late,
            full=full,
        )
        self.columns = relaxation.columns
        self._raise(relaxation.bound, weights=relaxation.proof)
        return relaxation

    def _dive(self, target: int, *, most: int) -> bool:
        found = dive(self.problem, self.columns, target=target, most=most, is_late=self.is_late)
        if found is None:
            return False
        self._take(found)
        return True

    def _take(self, layouts: Sequence[Layout]) -> None:
        self.layouts = layouts
        self.cost = cost_of(self.problem, layouts)

    def _search_lists(self, relaxation: Relaxation) -> bool:
        """List all columns that a better plan could use and search them; return whether that closed in.

        A list for a plan at the bound is shorter than one for any better plan, and proves less.
        """
        weights = relaxation.advice.weights
        table = price_table(self.problem, self.rest, weights)
        for target in sorted({self.limit, self.bound or 0}, reverse=True):
            columns = useful_columns(self.problem, self.rest, weights, table=table, target=target)
            if columns is not None and self._search(columns, target=target):
                return True
        return False

    def _search(self, columns: Sequence[Column], *, target: int) -> bool:
        branching = Branching(self.problem, target=target, is_late=self.is_late)
        found = branching.run(self.rest, columns)
        if found is not None:
            self._take(found)
        elif branching.is_complete:
            self._raise(target + self.grain, weights=None)
        return found is not None or branching.is_complete
