"""A method's wait between two steps in minutes, and when the weather leaves no time for it. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from crews.cure.waits import Wait
from crews.dayplan.crew_day.day import ClockSpan
from crews.dayplan.crew_day.visit import Closed, VisitLag
from crews.dayplan.crew_day.weather import DayWeather, limits, longest_wait, minutes_down, minutes_up
from crews.dayplan.problem import LagKind
from openings.methods.steps import Lag


def build_lag(
    lag: Lag, *, minutes: Mapping[str, int], weather: DayWeather
) -> tuple[VisitLag, tuple[Closed, ...]]:
    """Return the lag in `minutes` of steps by code, and the spans in which its first step may not begin.

    A minimum is the day's longest. Hours whose maximum is too short for the work are closed, and the shortest
    of the others holds; where it is too short all day, nothing is closed.
    """
    least = None if lag.min is None else longest_wait(lag.min, weather)
    spent = minutes[lag.max.minus_step] if lag.max is not None and lag.max.minus_step else 0
    needed = spent + (minutes[lag.from_step] if LagKind(lag.kind) is LagKind.START_START else 0)
    by_span = limits(lag.max, weather) if lag.max is not None else ()
    enough = [(span, limit) for span, limit in by_span if minutes_down(limit.duration) >= needed]
    most = _shortest(enough or by_span)
    built = VisitLag(
        before=lag.from_step,
        after=lag.to_step,
        kind=LagKind(lag.kind),
        why=" ".join([lag.why, *(found.why for found in (least, most) if found is not None and found.why)]),
        minimum=None if least is None else minutes_up(least.duration),
        maximum=None if most is None else minutes_down(most.duration) - spent,
    )
    if not enough:
        return built, ()
    closed = (
        Closed(span, (f"No time for it: {limit.why}",))
        for span, limit in by_span
        if (span, limit) not in enough
    )
    return built, tuple(closed)


def _shortest(found: Sequence[tuple[ClockSpan, Wait]]) -> Wait | None:
    return min((wait for _, wait in found), key=lambda wait: wait.duration, default=None)
