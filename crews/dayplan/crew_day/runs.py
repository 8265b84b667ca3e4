"""Which steps of an opening the same hands do in one go, so that nobody walks between them. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from crews.dayplan.crew_day.visit import Visit, VisitLag, VisitStep

# A step that must follow within this time is planned together with the one it follows; a longer limit
# (an open primer's hours) is kept by doing the opening's work without long gaps, and checked.
TIED_BELOW_MINUTES = 60


@dataclass(frozen=True, slots=True)
class Run:
    """Steps done one after another by the same hands."""

    steps: tuple[VisitStep, ...]

    @property
    def people(self) -> int:
        """Return the hands it takes."""
        return self.steps[0].people

    @property
    def codes(self) -> frozenset[str]:
        """Return its steps' codes."""
        return frozenset(step.code for step in self.steps)


@dataclass(frozen=True, slots=True)
class Unit:
    """Runs that are planned together, in order: the clock of one binds the next. Usually a single run."""

    runs: tuple[Run, ...]

    @property
    def codes(self) -> frozenset[str]:
        """Return the codes of all its steps."""
        return frozenset(code for run in self.runs for code in run.codes)


@dataclass(slots=True)
class _Grouping:
    """Runs as they grow, step by step in the visit's order of work."""

    visit: Visit
    groups: list[list[VisitStep]] = field(default_factory=list)

    def add(self, step: VisitStep) -> None:
        """Put the step at the end of the run that leads to it, else begin a run."""
        group = self._leading_run(step)
        if group is None:
            self.groups.append([step])
        else:
            group.append(step)

    def _leading_run(self, step: VisitStep) -> list[VisitStep] | None:
        befores = {first for first, then in self.visit.order if then == step.code}
        for group in reversed(self.groups):
            if not befores & {each.code for each in group}:
                continue
            # This run holds the last of what comes before the step: go on with it, or not at all.
            is_next = group[-1].code in befores or (group[-1].is_outside and step.is_outside)
            fits = group[-1].people == step.people and not self._must_wait(group, step)
            # what can wait is no part of a run that must begin soon: the shorter, the sooner it finds hands
            fits = fits and not self._hurries(group)
            return group if is_next and fits else None
        return None

    def _hurries(self, group: Sequence[VisitStep]) -> bool:
        return any(lag.after == group[0].code and _is_short(lag) for lag in self.visit.lags)

    def _must_wait(self, group: Sequence[VisitStep], step: VisitStep) -> bool:
        codes = {each.code for each in group}
        return any(
            lag.after == step.code and lag.before in codes and (lag.minimum or 0) > 0
            for lag in self.visit.lags
        )


def find_units(visit: Visit) -> tuple[Unit, ...]:
    """Return the visit's units in an order in which they can be planned.

    A step joins the run that leads to it where the same number of hands goes on without a wait; runs with a
    short maximum between them are one unit, the later ones a step each.
    """
    grouping = _Grouping(visit)
    for step in _in_order(visit):
        grouping.add(step)
    runs = [Run(tuple(group)) for group in grouping.groups]
    units = list(_tie(runs, visit.lags))
    if not _can_be_ordered(units, visit):
        units = list(_tie([Run((step,)) for step in _in_order(visit)], visit.lags))
    return tuple(units)


def _in_order(visit: Visit) -> Iterator[VisitStep]:
    """Yield the steps so that each comes after what must come before it, else as the visit gives them."""
    left = list(visit.steps)
    while left:
        waiting = {step.code for step in left}
        ready = next(
            (
                step
                for step in left
                if not any(then == step.code and first in waiting for first, then in visit.order)
            ),
            left[0],
        )
        left.remove(ready)
        yield ready


def _tie(runs: Sequence[Run], lags: Sequence[VisitLag]) -> Iterator[Unit]:
    """Yield the runs joined where a short maximum leads from one to another, in the order of the first."""
    left = list(runs)
    while left:
        joined = [left.pop(0)]
        for run in list(left):
            if any(_is_tied(joined_run, run, lags=lags) for joined_run in joined):
                joined.append(run)
                left.remove(run)
        yield Unit(tuple(joined))


def _is_tied(first: Run, then: Run, *, lags: Sequence[VisitLag]) -> bool:
    return any(lag.before in first.codes and lag.after in then.codes and _is_short(lag) for lag in lags)


def _is_short(lag: VisitLag) -> bool:
    return lag.maximum is not None and lag.maximum < TIED_BELOW_MINUTES


def _can_be_ordered(units: Sequence[Unit], visit: Visit) -> bool:
    """Return whether some order of the units has every step's forerunners in the same or an earlier unit."""
    left, done = list(units), frozenset[str]()
    while left:
        ready = [unit for unit in left if forerunners(unit, visit) <= done]
        if not ready:
            return False
        done = done.union(*(unit.codes for unit in ready))
        left = [unit for unit in left if unit not in ready]
    return True


def forerunners(unit: Unit, visit: Visit) -> frozenset[str]:
    """Return the steps outside `unit` that one of its steps comes after, by order or by a minimum."""
    codes = unit.codes
    pairs = [*visit.order, *((lag.before, lag.after) for lag in visit.lags if lag.minimum is not None)]
    return frozenset(first for first, then in pairs if then in codes and first not in codes)
