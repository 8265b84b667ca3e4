"""Earliest and latest starts, circles, and the list scheduler's parts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crews.dayplan.bounds import critical_path, merge_windows, work_bound
from crews.dayplan.list_scheduler import end_of, schedule_by_rules
from crews.dayplan.network import Network, NoOrder, last_fitting_start, next_fitting_start
from crews.dayplan.plan import DayPlan, Status
from crews.dayplan.problem import Window
from crews.dayplan.timeline import Timeline
from crews.dayplan.verify import verify
from tests.crews.dayplan.cases import after, from_start, problem, problems, task


def test_earliest_starts_follow_the_longest_chain():
    # a 5, then b from 5; c from b's end at 9 plus 3 of lag: 12; d is bound to nothing.
    network = Network(
        problem(
            task("a", 5), task("b", 4), task("c", 1), task("d", 2), lags=(after("a", "b"), after("b", "c", 3))
        )
    )

    assert network.earliest == (0, 5, 12, 0)
    # What must pass from each start to the end: c 1; b 4 + 3 + 1; a 5 + 8; d 2.
    assert network.tails == (13, 8, 1, 2)
    assert critical_path(network) == 13


def test_maximum_lag_pulls_the_first_task_later():
    # b can't start before its window at 20, and at most 6 after a's start: a not before 14.
    network = Network(
        problem(task("a", 2), task("b", 1, 0, [(20, 30)]), lags=(from_start("a", "b", maximum=6),))
    )

    assert network.earliest == (14, 20)


def test_latest_starts_leave_room_for_what_follows():
    # b's window ends at 30 and it takes 4: 26; a takes 5 before it: 21.
    network = Network(problem(task("a", 5), task("b", 4, 0, [(0, 30)]), lags=(after("a", "b"),)))

    assert network.latest == (21, 26)


def test_circle_of_lags_is_named():
    network = Network(
        problem(
            task("a", 1), task("b", 1), task("c", 1), lags=(after("a", "b"), after("b", "c"), after("c", "a"))
        )
    )

    with pytest.raises(NoOrder) as none:
        assert network.earliest
    assert {"a", "b", "c"} <= set(none.value.reason.replace("-", " ").split())


@pytest.mark.parametrize(("earliest", "start"), [(0, 5), (5, 5), (6, 20), (20, 20), (26, None)])
def test_next_start_is_the_first_inside_a_window(earliest, start):
    # 5 min in 5-10 or 20-30.
    assert next_fitting_start(task("a", 5, 0, [(5, 10), (20, 30)]), earliest) == start


@pytest.mark.parametrize(("latest", "start"), [(40, 25), (22, 22), (19, 5), (5, 5)])
def test_last_start_is_the_latest_inside_a_window(latest, start):
    assert last_fitting_start(task("a", 5, 0, [(5, 10), (20, 30)]), latest) == start


def test_windows_that_touch_are_one():
    merged = merge_windows([task("a", 1, 0, [(10, 20), (0, 5)]), task("b", 1, 0, [(5, 8), (15, 30)])])

    assert merged == (Window(0, 8), Window(10, 30))
    assert merge_windows([task("a", 1, 0, [(0, 5)]), task("b", 1)]) is None


def test_work_that_can_start_late_bounds_from_there():
    # Two people; b and c take both for 10 each, from 50 on: 50 + 20 = 70, though all work / 2 is 22.
    day = problem(task("a", 4, 1), task("b", 10, 2, [(50, 99)]), task("c", 10, 2, [(50, 99)]))
    network = Network(day)

    assert work_bound(network, day.resources[0]) == 70


def test_timeline_fits_a_use_into_the_first_gap():
    # Capacity 2; 2 in use 0-10, 1 in use 10-20: one more fits at 10, two more at 20.
    timeline = Timeline(2)
    timeline.take(0, minutes=10, amount=2)
    timeline.take(10, minutes=10, amount=1)

    assert timeline.first_fit(0, minutes=5, amount=1) == 10
    assert timeline.first_fit(0, minutes=5, amount=2) == 20
    assert timeline.first_fit(13, minutes=30, amount=1) == 13


def test_timeline_gives_back_what_was_taken():
    timeline = Timeline(1)
    timeline.take(3, minutes=4, amount=1)
    timeline.take(3, minutes=4, amount=-1)

    assert timeline.first_fit(0, minutes=100, amount=1) == 0


@given(
    uses=st.lists(st.tuples(st.integers(0, 20), st.integers(1, 6), st.integers(1, 2)), max_size=8),
    earliest=st.integers(0, 20),
    minutes=st.integers(1, 6),
)
def test_timelines_first_fit_is_the_first_of_all_minutes(uses, earliest, minutes):
    timeline = Timeline(2)
    taken = [0] * 60
    for start, length, amount in uses:
        if all(taken[minute] + amount <= 2 for minute in range(start, start + length)):
            timeline.take(start, minutes=length, amount=amount)
            for minute in range(start, start + length):
                taken[minute] += amount

    found = timeline.first_fit(earliest, minutes=minutes, amount=1)

    free = [
        start for start in range(earliest, 50) if all(used < 2 for used in taken[start : start + minutes])
    ]
    assert found == free[0]


@given(day=problems())
def test_list_schedulers_plan_keeps_every_rule(day):
    network = Network(day)
    try:
        starts = schedule_by_rules(network, bound=0) if network.earliest else None
    except NoOrder:
        return
    if starts is None:
        return

    named = dict(zip([each.name for each in day.tasks], starts, strict=True))
    plan = DayPlan(Status.FEASIBLE, 0.0, makespan=end_of(network, starts), bound=0, starts=named)
    assert verify(day, plan) == ()
