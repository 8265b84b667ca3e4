"""Which of two tasks must come first where they can't run side by side, and what that proves. Pure.

A classical reasoning: from all lags follows how much later one task must start than another; where that
leaves no room for it before the other, it comes after it, and more follows. Often this alone shows that there
is no plan, or none by a certain time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from crews.dayplan.network import Arc, Network, NoOrder

# The work goes with the fourth power of the tasks; beyond this the search is quicker on its own.
MOST_TASKS = 64
NO_LIMIT = -(10**18)


class Distances:
    """How much later each task must start than each other; the last row and column are the day's start."""

    def __init__(self, rows: list[list[int]]) -> None:
        """Take rows that are closed: no detour asks for more."""
        self.rows = rows

    def copy(self) -> Distances:
        """Return the same distances, to be changed apart."""
        return Distances([row[:] for row in self.rows])

    def require(self, before: int, after: int, *, weight: int) -> bool:
        """Let `after` start at least `weight` after `before`, with all that follows; False where it can't."""
        rows = self.rows
        if weight <= rows[before][after]:
            return True
        if weight + rows[after][before] > 0:
            return False
        leaving = [(place, far) for place, far in enumerate(rows[after]) if far > NO_LIMIT]
        for row in rows:
            if row[before] == NO_LIMIT:
                continue
            reached = row[before] + weight
            for place, far in leaving:
                row[place] = max(row[place], reached + far)
        return True


@dataclass(frozen=True)
class Pairs:
    """A network's pairs of tasks that together use more than there is."""

    network: Network

    @property
    def is_small_enough(self) -> bool:
        """Return whether the reasoning is worth its time."""
        return len(self.network.tasks) <= MOST_TASKS

    @cached_property
    def clashing(self) -> tuple[tuple[int, int], ...]:
        """Return the pairs that can't run side by side."""
        return tuple(
            (first, second)
            for second in range(len(self.network.tasks))
            for first in range(second)
            if self._clash(first, second)
        )

    def find_orders(self, *, end_by: int) -> tuple[Arc, ...]:
        """Return what must come before what in every plan that ends by `end_by`.

        Raises NoOrder where there is no such plan; that there may be none is not always seen.
        """
        distances = self._distances_by(end_by)
        found: list[Arc] = []
        is_changed = True
        while is_changed:
            is_changed = False
            for arc in self._forced(distances):
                if not distances.require(arc.before, arc.after, weight=arc.weight):
                    raise self._no_order(arc.before, arc.after)
                found.append(arc)
                is_changed = True
        return tuple(found)

    def raise_bound(self, *, bound: int, end: int) -> int:
        """Return a time that no plan ends before, between `bound` and `end`, a plan's own end or later.

        By halving: where no plan ends by a time, the bound lies above it.
        """
        while bound < end:
            middle = (bound + end) // 2
            try:
                self.find_orders(end_by=middle)
            except NoOrder:
                bound = middle + 1
            else:
                end = middle
        return bound

    @cached_property
    def _closed(self) -> Distances:
        """Return the distances that lags and windows ask for."""
        network, count = self.network, len(self.network.tasks)
        rows = [
            [0 if place == other else NO_LIMIT for other in range(count + 1)] for place in range(count + 1)
        ]
        distances = Distances(rows)
        for place, earliest in enumerate(network.earliest):
            distances.require(count, place, weight=earliest)
        for arc in network.arcs:
            distances.require(arc.before, arc.after, weight=arc.weight)
        return distances

    def _distances_by(self, end_by: int) -> Distances:
        distances, count = self._closed.copy(), len(self.network.tasks)
        for place, tail in enumerate(self.network.tails):
            latest = min(self.network.latest[place], end_by - tail)
            if not distances.require(place, count, weight=-latest):
                raise NoOrder(
                    f"{self.network.tasks[place].name} can't start late enough and be done in time."
                )
        return distances

    def _forced(self, distances: Distances) -> Iterator[Arc]:
        """Yield for each clashing pair the order that is left, as distances stand when it is reached.

        Where neither is left, yield one: to require it fails.
        """
        rows, tasks = distances.rows, self.network.tasks
        for first, second in self.clashing:
            if rows[first][second] > -tasks[second].minutes:
                if rows[first][second] < tasks[first].minutes:
                    yield Arc(first, second, tasks[first].minutes)
            elif rows[second][first] > -tasks[first].minutes and rows[second][first] < tasks[second].minutes:
                yield Arc(second, first, tasks[second].minutes)

    def _clash(self, first: int, second: int) -> bool:
        one, other = self.network.tasks[first], self.network.tasks[second]
        if one.minutes == 0 or other.minutes == 0:
            return False
        uses, more = dict(one.uses), dict(other.uses)
        return any(
            uses.get(each.name, 0) + more.get(each.name, 0) > each.capacity
            for each in self.network.problem.resources
        )

    def _no_order(self, first: int, second: int) -> NoOrder:
        names = f"{self.network.tasks[first].name} and {self.network.tasks[second].name}"
        return NoOrder(f"{names} can't run side by side, and neither can come first.")
