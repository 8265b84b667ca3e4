"""A plan from the linear program: round up what it uses most, solve again for the rest, and go back. Pure.

Source: diving with limited discrepancy search, Sadykov and others (2019).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from materials.cutplan.columns import Column, Rest, cost_of
from materials.cutplan.generate import Late, relax
from materials.cutplan.master import WHOLE
from materials.cutplan.starts import fill_rest
from materials.cutplan.whole import Layout, WholeProblem

MOST_MISSES = 3
DEEPEST_CHOICE = 4
NEARLY_WHOLE = WHOLE * 4 // 5


def dive(
    problem: WholeProblem, columns: Iterable[Column], *, target: int, most: int, is_late: Late
) -> list[Layout] | None:
    """Return a plan that costs at most `target`; None where none was found with `most` programs solved."""
    return _Dive(problem, columns, most=most, is_late=is_late).run(
        Rest.of(problem), target, depth=0, misses=MOST_MISSES
    )


class _Dive:
    def __init__(self, problem: WholeProblem, columns: Iterable[Column], *, most: int, is_late: Late) -> None:
        self.problem = problem
        self.most = most
        self.columns = dict.fromkeys(columns)
        self.is_late = is_late
        self.dives = 0

    def run(self, rest: Rest, target: int, *, depth: int, misses: int) -> list[Layout] | None:
        """Return layouts for the rest within `target`. Close to the top, other choices are tried too."""
        layouts = fill_rest(self.problem, rest)
        if layouts is not None and cost_of(self.problem, layouts) <= target:
            return layouts
        self.dives += 1
        if self.dives > self.most or self.is_late():
            return None
        relaxation = relax(
            self.problem,
            rest,
            self.columns,
            known=target,
            limit=target,
            is_late=self.is_late,
        )
        self.columns.update(dict.fromkeys(relaxation.columns))
        if relaxation.bound is None or relaxation.bound > target:
            return None
        choices = _choices(rest, relaxation.shares, most=misses if depth < DEEPEST_CHOICE else 0)
        for miss, layouts in enumerate(choices):
            left = target - cost_of(self.problem, layouts)
            if left < 0:
                continue
            found = self.run(rest.after(layouts), left, depth=depth + 1, misses=misses - miss)
            if found is not None:
                return [*layouts, *found]
        return None


def _choices(rest: Rest, shares: dict[Column, int], *, most: int) -> Iterator[list[Layout]]:
    """Yield what to cut next: all whole shares, or the largest ones; then without each one's leader."""
    ranked = sorted(shares.items(), key=lambda item: -item[1])
    banned: set[Column] = set()
    for _ in range(most + 1):
        layouts = list(_rounded(rest, ranked, banned=banned))
        if not layouts:
            return
        yield layouts
        banned.add(Column(layouts[0].stock, layouts[0].pattern))


def _rounded(rest: Rest, ranked: list[tuple[Column, int]], *, banned: Collection[Column]) -> Iterator[Layout]:
    is_empty = True
    for column, share in ranked:
        if column in banned:
            continue
        wanted = share // WHOLE + (share % WHOLE >= NEARLY_WHOLE)
        if not wanted and not is_empty:
            return
        times = min(wanted or 1, rest.times(column))
        if times:
            layout = Layout(column.stock, column.pattern, times)
            rest = rest.after([layout])
            is_empty = False
            yield layout
