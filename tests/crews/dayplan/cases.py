"""Small problems with few words, and random ones for the property tests."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from hypothesis import strategies as st

from crews.dayplan.model import SearchLimits
from crews.dayplan.plan import DayPlan
from crews.dayplan.problem import DayProblem, Lag, LagKind, Resource, Task, Window
from crews.dayplan.solve import solve
from crews.dayplan.verify import verify

ONE_WORKER = SearchLimits(seconds=20, workers=1, seed=1)


def stopwatch() -> float:
    """A clock that stands still, so that no test depends on the machine."""
    return 0.0


def answer(problem: DayProblem, limits: SearchLimits = ONE_WORKER) -> DayPlan:
    return solve(problem, limits=limits, clock=stopwatch)


def task(name: str, minutes: int, people: int = 0, windows: list[tuple[int, int]] | None = None) -> Task:
    uses = (("people", people),) if people else ()
    spans = None if windows is None else tuple(Window(*pair) for pair in windows)
    return Task(name, minutes, uses, spans)


def problem(*tasks: Task, people: int = 2, lags: tuple[Lag, ...] = ()) -> DayProblem:
    return DayProblem((Resource("people", people),), tasks, lags)


def after(first: str, then: str, minimum: int | None = 0, maximum: int | None = None) -> Lag:
    return Lag(first, then, LagKind.FINISH_START, minimum, maximum)


def from_start(first: str, then: str, minimum: int | None = None, maximum: int | None = None) -> Lag:
    return Lag(first, then, LagKind.START_START, minimum, maximum)


def shortest_by_brute_force(of: DayProblem, latest: int) -> int | None:
    """The makespan of the best of all start combinations up to `latest`, judged by `verify` alone."""
    ends = (
        max(start + each.minutes for start, each in zip(starts, of.tasks, strict=True))
        for starts in _all_starts(of, latest)
        if is_kept(of, dict(zip([each.name for each in of.tasks], starts, strict=True)))
    )
    return min(ends, default=None)


def is_kept(of: DayProblem, starts: dict[str, int]) -> bool:
    end = max((starts[each.name] + each.minutes for each in of.tasks), default=0)
    return not verify(of, DayPlan("feasible", 0.0, makespan=end, bound=0, starts=starts))


def _all_starts(of: DayProblem, latest: int) -> Iterator[tuple[int, ...]]:
    return itertools.product(range(latest + 1), repeat=len(of.tasks))


NAMES = "abcdefgh"


@st.composite
def problems(draw: st.DrawFn, most_tasks: int = 6, longest: int = 6) -> DayProblem:
    """Tasks with people, windows, minimum and maximum lags; some have no plan."""
    count = draw(st.integers(1, most_tasks))
    people = draw(st.integers(1, 3))
    windows = st.lists(
        st.tuples(st.integers(0, 20), st.integers(1, 15)).map(lambda pair: Window(pair[0], sum(pair))),
        min_size=1,
        max_size=3,
    ).map(tuple)
    tasks = tuple(
        Task(
            NAMES[place],
            draw(st.integers(0, longest)),
            (("people", draw(st.integers(0, people))),),
            draw(st.one_of(st.none(), st.none(), windows)),
        )
        for place in range(count)
    )
    lags = draw(
        st.lists(
            st.builds(
                Lag,
                before=st.sampled_from(NAMES[:count]),
                after=st.sampled_from(NAMES[:count]),
                kind=st.sampled_from(LagKind),
                minimum=st.one_of(st.none(), st.integers(-2, 6)),
                maximum=st.one_of(st.none(), st.integers(0, 12)),
            ).filter(lambda lag: lag.before != lag.after),
            max_size=count,
        )
    )
    return DayProblem((Resource("people", people),), tasks, tuple(lags))
