"""A crew's day and its visits, made ready for planning: spans, units and tails worked out once. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from crews.dayplan.crew_day.day import ClockSpan, CrewDay, cut_out, worked_spans
from crews.dayplan.crew_day.runs import Unit, find_units, forerunners
from crews.dayplan.crew_day.visit import Visit, VisitLag, VisitStep
from crews.dayplan.problem import LagKind


@dataclass(frozen=True, slots=True)
class Stop:
    """A visit with its units, what each must wait for, when its steps may be done, what follows each step."""

    visit: Visit
    units: tuple[Unit, ...]
    forerunners: tuple[frozenset[str], ...]
    spans: Mapping[str, tuple[ClockSpan, ...]]
    befores: Mapping[str, tuple[str, ...]]
    lags_to: Mapping[str, tuple[VisitLag, ...]]
    tails: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Site:
    """The day's crew and its stops in walking order."""

    day: CrewDay
    worked: tuple[ClockSpan, ...]
    stops: tuple[Stop, ...]

    def move_minutes(self, here: Visit | None, there: Visit) -> int:
        """Return what a person needs to come from one opening, None the truck, to another."""
        if here is None:
            return self.day.move
        if here.house != there.house:
            return self.day.travel
        return 0 if (here.elevation, here.mark) == (there.elevation, there.mark) else self.day.move


def make_site(day: CrewDay, visits: Sequence[Visit]) -> Site:
    """Return the site of `visits`, in the order in which they are given."""
    worked = worked_spans(day)
    return Site(day, worked, tuple(make_stop(visit, worked) for visit in visits))


def spans_of(step: VisitStep, worked: Sequence[ClockSpan]) -> tuple[ClockSpan, ...]:
    """Return the spans in which a step may lie: worked time in which no gate is closed."""
    return cut_out(worked, [closed.span for closed in step.closed])


def make_stop(visit: Visit, worked: Sequence[ClockSpan]) -> Stop:
    """Return the stop of `visit` in a day with these worked spans."""
    units = find_units(visit)
    codes = [step.code for step in visit.steps]
    return Stop(
        visit=visit,
        units=units,
        forerunners=tuple(forerunners(unit, visit) for unit in units),
        spans={step.code: spans_of(step, worked) for step in visit.steps},
        befores={code: tuple(first for first, then in visit.order if then == code) for code in codes},
        lags_to={code: tuple(lag for lag in visit.lags if lag.after == code) for code in codes},
        tails=_tails(visit),
    )


def _tails(visit: Visit) -> dict[str, int]:
    """Return for each step the minutes from its start to the end of what follows it, by order and waits."""
    minutes = {step.code: step.minutes for step in visit.steps}
    tails = dict(minutes)
    arcs = [(first, then, minutes[first]) for first, then in visit.order]
    for lag in visit.lags:
        if lag.minimum is not None:
            counted = minutes[lag.before] if lag.kind is LagKind.FINISH_START else 0
            arcs.append((lag.before, lag.after, counted + lag.minimum))
    for _ in visit.steps:
        for first, then, weight in arcs:
            tails[first] = max(tails[first], weight + tails[then])
    return tails
