"""How early and how late each task can start by lags and windows alone, or why none can. Pure.

Every lag becomes arcs between starts: the second task starts at least `weight` after the first.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from crews.dayplan.problem import DayProblem, Lag, LagKind, Task


class NoOrder(Exception):
    """No order solves the problem; carries the reason in words."""

    def __init__(self, reason: str) -> None:
        """Keep the reason."""
        super().__init__(reason)
        self.reason = reason


@dataclass(frozen=True, slots=True)
class Arc:
    """Task number `after` starts at least `weight` after task number `before` starts."""

    before: int
    after: int
    weight: int


@dataclass(frozen=True)
class Network:
    """A problem's tasks by number, with the arcs between their starts."""

    problem: DayProblem

    @cached_property
    def tasks(self) -> tuple[Task, ...]:
        """Return the tasks by number."""
        return self.problem.tasks

    @cached_property
    def number(self) -> dict[str, int]:
        """Return each task's number by name."""
        return {task.name: place for place, task in enumerate(self.tasks)}

    @cached_property
    def arcs(self) -> tuple[Arc, ...]:
        """Return the arcs of all lags; a maximum is an arc back with a negative weight."""
        return tuple(arc for lag in self.problem.lags for arc in self._arcs_of(lag))

    @cached_property
    def arcs_from(self) -> tuple[tuple[Arc, ...], ...]:
        """Return for each task the arcs that leave it."""
        leaving: list[list[Arc]] = [[] for _ in self.tasks]
        for arc in self.arcs:
            leaving[arc.before].append(arc)
        return tuple(map(tuple, leaving))

    @cached_property
    def arcs_to(self) -> tuple[tuple[Arc, ...], ...]:
        """Return for each task the arcs that come in."""
        coming: list[list[Arc]] = [[] for _ in self.tasks]
        for arc in self.arcs:
            coming[arc.after].append(arc)
        return tuple(map(tuple, coming))

    @cached_property
    def horizon(self) -> int:
        """Return a time by which some shortest plan has ended, if there is a plan at all.

        Beyond the last window, tasks and lags one after another fill all of a plan that never idles.
        """
        last_window = max((window.end for task in self.tasks for window in task.windows or ()), default=0)
        reach = [
            max([task.minutes, *(arc.weight for arc in self.arcs_from[place])])
            for place, task in enumerate(self.tasks)
        ]
        return max(0, last_window) + sum(reach)

    @cached_property
    def earliest(self) -> tuple[int, ...]:
        """Return each task's earliest start. Raises NoOrder where lags or windows leave none."""
        if circle := find_circle(self.arcs, len(self.tasks)):
            names = " - ".join(self.tasks[place].name for place in circle)
            raise NoOrder(f"The lags contradict each other: {names} push each other later, in a circle.")
        starts = [0] * len(self.tasks)
        self.push_later(starts, range(len(self.tasks)))
        return tuple(starts)

    @cached_property
    def latest(self) -> tuple[int, ...]:
        """Return each task's latest start within the horizon. Raises NoOrder where it has no start at all."""
        starts = [self.horizon - task.minutes for task in self.tasks]
        return tuple(self._pull_earlier(starts)) if self.earliest else ()

    @cached_property
    def tails(self) -> tuple[int, ...]:
        """Return the time that must pass from each task's start to the plan's end, by minutes and lags."""
        tails = [task.minutes for task in self.tasks]
        waiting = deque(range(len(self.earliest)))  # a circle would never end here: the earliest starts know
        while waiting:
            place = waiting.popleft()
            for arc in self.arcs_to[place]:
                if tails[place] + arc.weight > tails[arc.before]:
                    tails[arc.before] = tails[place] + arc.weight
                    waiting.append(arc.before)
        return tuple(tails)

    def push_later(self, starts: list[int], changed: Iterable[int]) -> set[int]:
        """Raise `starts` in place until every arc and window from the `changed` tasks on holds.

        Returns the tasks that were raised. Raises NoOrder where a task is pushed past its last window or the
        horizon.
        """
        raised: set[int] = set()
        waiting = deque(changed)
        while waiting:
            place = waiting.popleft()
            fitting = next_fitting_start(self.tasks[place], starts[place])
            if fitting is None:
                name = self.tasks[place].name
                raise NoOrder(f"{name} fits none of its windows from minute {starts[place]} on.")
            if fitting > self.horizon:
                raise NoOrder(f"{self.tasks[place].name} would start when all work is over.")
            if fitting > starts[place]:
                starts[place] = fitting
                raised.add(place)
            for arc in self.arcs_from[place]:
                if fitting + arc.weight > starts[arc.after]:
                    starts[arc.after] = fitting + arc.weight
                    raised.add(arc.after)
                    waiting.append(arc.after)
        return raised

    def _pull_earlier(self, starts: list[int]) -> list[int]:
        """Return `starts`, lowered until every arc and window holds; the earliest starts already do."""
        waiting = deque(range(len(starts)))
        while waiting:
            place = waiting.popleft()
            starts[place] = last_fitting_start(self.tasks[place], starts[place])
            for arc in self.arcs_to[place]:
                if starts[place] - arc.weight < starts[arc.before]:
                    starts[arc.before] = starts[place] - arc.weight
                    waiting.append(arc.before)
        return starts

    def _arcs_of(self, lag: Lag) -> Iterable[Arc]:
        before, after = self.number[lag.before], self.number[lag.after]
        counted_from = self.tasks[before].minutes if lag.kind is LagKind.FINISH_START else 0
        if lag.minimum is not None:
            yield Arc(before, after, counted_from + lag.minimum)
        if lag.maximum is not None:
            yield Arc(after, before, -counted_from - lag.maximum)


def next_fitting_start(task: Task, earliest: int) -> int | None:
    """Return the first start from `earliest` on at which `task` lies inside one of its windows."""
    if task.windows is None:
        return earliest
    fitting = (
        max(window.start, earliest)
        for window in task.windows
        if max(window.start, earliest) + task.minutes <= window.end
    )
    return min(fitting, default=None)


def last_fitting_start(task: Task, latest: int) -> int:
    """Return the last start up to `latest` at which `task`, which fits somewhere, lies inside a window."""
    if task.windows is None:
        return latest
    return max(
        min(window.end - task.minutes, latest)
        for window in task.windows
        if min(window.end - task.minutes, latest) >= window.start
    )


def find_circle(arcs: Sequence[Arc], count: int) -> tuple[int, ...]:
    """Return tasks whose arcs lead round to a later start than they set out from; empty where none do.

    Bellman and Ford's longest paths: after `count` rounds only a circle still grows.
    """
    length, came_from = [0] * count, [-1] * count
    grown = -1
    for _ in range(count + 1):
        grown = -1
        for arc in arcs:
            if length[arc.before] + arc.weight > length[arc.after]:
                length[arc.after] = length[arc.before] + arc.weight
                came_from[arc.after] = arc.before
                grown = arc.after
        if grown < 0:
            return ()
    for _ in range(count):
        grown = came_from[grown]
    circle = [grown]
    while came_from[circle[-1]] != grown:
        circle.append(came_from[circle[-1]])
    return tuple(reversed(circle))
