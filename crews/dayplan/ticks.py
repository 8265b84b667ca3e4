"""How fractions of a minute, or of a resource, become the whole numbers that the engine counts in. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from crews.dayplan.problem import Lag, LagKind, Resource, Task, Window

Amounts = tuple[tuple[str, Fraction], ...]


@dataclass(frozen=True, slots=True)
class ExactTask:
    """A task whose minutes, windows and uses are exact numbers."""

    name: str
    minutes: Fraction
    uses: Amounts
    windows: tuple[tuple[Fraction, Fraction], ...] | None

    def times(self) -> Iterable[Fraction]:
        """Return every time in it."""
        return [self.minutes, *(edge for pair in self.windows or () for edge in pair)]


@dataclass(frozen=True, slots=True)
class ExactLag:
    """A lag whose limits are exact minutes."""

    before: str
    after: str
    kind: LagKind
    minimum: Fraction | None
    maximum: Fraction | None

    def times(self) -> Iterable[Fraction]:
        """Return every time in it."""
        return [time for time in (self.minimum, self.maximum) if time is not None]


@dataclass(frozen=True, slots=True)
class Ticks:
    """A minute counts `per_minute` ticks; one of a resource counts as so many of its `parts`."""

    per_minute: int
    parts: Mapping[str, int]

    def whole_resource(self, name: str, amount: Fraction) -> Resource:
        """Return the resource in whole parts."""
        return Resource(name, self._share(name, amount))

    def whole_task(self, task: ExactTask) -> Task:
        """Return the task in ticks and whole parts."""
        windows = None
        if task.windows is not None:
            windows = tuple(Window(self._time(start), self._time(end)) for start, end in task.windows)
        uses = tuple((name, self._share(name, amount)) for name, amount in task.uses)
        return Task(task.name, self._time(task.minutes), uses, windows)

    def whole_lag(self, lag: ExactLag) -> Lag:
        """Return the lag in ticks."""
        minimum = None if lag.minimum is None else self._time(lag.minimum)
        maximum = None if lag.maximum is None else self._time(lag.maximum)
        return Lag(lag.before, lag.after, lag.kind, minimum, maximum)

    def _time(self, minutes: Fraction) -> int:
        return int(minutes * self.per_minute)

    def _share(self, name: str, amount: Fraction) -> int:
        return int(amount * self.parts[name])


def find_ticks(resources: Amounts, tasks: Sequence[ExactTask], *, lags: Sequence[ExactLag]) -> Ticks:
    """Return the coarsest counting in which every time and every amount is whole."""
    times = [time for task in tasks for time in task.times()]
    times += [time for lag in lags for time in lag.times()]
    parts: dict[str, int] = {}
    for name, amount in (*resources, *(use for task in tasks for use in task.uses)):
        parts[name] = math.lcm(parts.get(name, 1), amount.denominator)
    return Ticks(math.lcm(1, *(time.denominator for time in times)), parts)
