"""Small days with the shortest plan worked out by hand, and what holds for every plan."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings

from crews.dayplan.model import SearchLimits
from crews.dayplan.plan import DayPlan, Status
from crews.dayplan.problem import DayProblem, Resource, Task
from crews.dayplan.solve import BrokenPlan, solve
from crews.dayplan.verify import verify
from tests.crews.dayplan.cases import (
    ONE_WORKER,
    after,
    answer,
    from_start,
    problem,
    problems,
    shortest_by_brute_force,
    task,
)


def test_no_tasks_take_no_time():
    plan = answer(problem())

    assert (plan.status, plan.makespan, plan.bound, plan.gap) == ("optimal", 0, 0, 0)
    assert plan.starts == {}


def test_two_people_share_three_equal_tasks_in_two_rounds():
    # 3 tasks x 10 min for one person each, two people: 30 person-minutes / 2 = 15, but a task is not cut,
    # so two run first and the third after them: 20.
    plan = answer(problem(task("a", 10, 1), task("b", 10, 1), task("c", 10, 1)))

    assert (plan.status, plan.makespan) == ("optimal", 20)


def test_task_for_two_waits_until_both_are_free():
    # "set" needs both people: 8 min alone; the other two tasks (6 and 4) side by side take 6. 8 + 6 = 14.
    plan = answer(problem(task("set", 8, 2), task("a", 6, 1), task("b", 4, 1)))

    assert (plan.status, plan.makespan) == ("optimal", 14)


def test_minimum_lag_is_filled_with_other_work():
    # One person: bead 9, then 60 min until tack-free, flap 4: 73. Another 50 min of work fits into the 60.
    plan = answer(
        problem(
            task("bead", 9, 1),
            task("flap", 4, 1),
            task("other", 50, 1),
            people=1,
            lags=(after("bead", "flap", 60),),
        )
    )

    assert (plan.status, plan.makespan) == ("optimal", 73)
    assert plan.starts == {"bead": 0, "flap": 69, "other": plan.starts["other"]}
    assert 9 <= plan.starts["other"] <= 19


def test_maximum_lag_holds_the_bead_back_until_two_can_set():
    # Set needs both people, and at most 12 min after the bead's start. One is busy with "prep" until 26, and
    # set follows it: 26 to 34. So the bead (4 min) starts at 14 or later, though a person is free from 0 on.
    plan = answer(
        problem(
            task("prep", 26, 1),
            task("bead", 4, 1),
            task("set", 8, 2),
            lags=(after("prep", "set"), after("bead", "set"), from_start("bead", "set", maximum=12)),
        )
    )

    assert (plan.status, plan.makespan) == ("optimal", 34)
    assert plan.starts["set"] == 26
    assert 14 <= plan.starts["bead"] <= 22


def test_task_is_not_cut_by_a_break():
    # Windows 0-20 and 30-60; 15 and 10 min for one person: 15 fits before the break, 10 only after it: 40.
    # The other way round: 10, then 15 does not fit into 20: 45.
    windows = [(0, 20), (30, 60)]

    plan = answer(problem(task("a", 15, 1, windows), task("b", 10, 1, windows), people=1))

    assert (plan.status, plan.makespan) == ("optimal", 40)
    assert plan.starts == {"a": 0, "b": 30}


def test_window_as_long_as_the_task_fits_it():
    assert answer(problem(task("a", 20, 1, [(5, 25)]))).starts == {"a": 5}


def test_bound_counts_only_worked_minutes():
    # One person, 35 min of work in windows 0-20, 30-60: 20 before the break, 15 after it: nothing before 45.
    windows = [(0, 20), (30, 60)]

    plan = answer(problem(task("a", 20, 1, windows), task("b", 15, 1, windows), people=1))

    assert (plan.status, plan.bound, plan.makespan) == ("optimal", 45, 45)


def test_negative_minimum_lets_a_task_start_before_the_other_ends():
    # b may start 3 before a's end: 10 - 3 = 7, and takes 5: 12.
    plan = answer(problem(task("a", 10, 1), task("b", 5, 1), lags=(after("a", "b", -3),)))

    assert (plan.makespan, plan.starts) == (12, {"a": 0, "b": 7})


def test_task_of_no_minutes_uses_nobody():
    plan = answer(problem(task("a", 10, 2), task("mark", 0, 2)))

    assert plan.makespan == 10


def test_ladder_is_shared_like_people():
    # Two people, one ladder, both tasks need it: one after the other, 12.
    both = (("people", 1), ("ladder", 1))
    day = DayProblem((Resource("people", 2), Resource("ladder", 1)), (Task("a", 6, both), Task("b", 6, both)))

    assert answer(day).makespan == 12


@pytest.mark.parametrize(
    ("day", "reason"),
    [
        # c must start 5 after b, b 5 after c: each pushes the other.
        (problem(task("a", 1), task("b", 1), lags=(after("a", "b", 5), after("b", "a", 5))), "circle"),
        # The lag's own ends cross: at least 10, at most 5.
        (problem(task("a", 1), task("b", 1), lags=(from_start("a", "b", 10, 5),)), "circle"),
        (problem(task("a", 1), lags=(from_start("a", "a", 1),)), "circle"),
        (problem(task("a", 10, 3)), "uses 3 of people; there are 2"),
        (problem(task("a", 10, 1, [(0, 9)])), "none of its windows"),
        (problem(task("a", 10, 1, [])), "none of its windows"),
        # a ends at 10; b must start within its window by 5.
        (problem(task("a", 10), task("b", 5, 1, [(0, 10)]), lags=(after("a", "b"),)), "none of its windows"),
        # b can't start before 20, a must start within 10 of b, and a's window is over by 8.
        (
            problem(
                task("a", 5, 1, [(0, 8)]),
                task("b", 5, 1, [(20, 30)]),
                lags=(from_start("a", "b", maximum=10),),
            ),
            "a fits none of its windows from minute 10 on",
        ),
        # One person; b within 4 of a's start and a within 4 of b's: they would overlap.
        (
            problem(
                task("a", 5, 1),
                task("b", 5, 1),
                people=1,
                lags=(from_start("a", "b", maximum=4), from_start("b", "a", maximum=4)),
            ),
            "a and b can't run side by side, and neither can come first",
        ),
        # 3 x 10 person-minutes for 1 person in a window of 20.
        (
            problem(*[task(name, 10, 1, [(0, 20)]) for name in "abc"], people=1),
            "more than their windows hold",
        ),
    ],
)
def test_impossible_day_is_an_answer_with_a_reason(day, reason):
    plan = answer(day)

    assert plan.status == "infeasible"
    assert (plan.makespan, plan.bound, plan.gap) == (None, None, None)
    assert plan.starts == {}
    assert plan.reason
    assert reason in plan.reason


# Two people; three tasks of 5 min, each within 4 of the others' starts: all three would overlap, and no two
# of them clash. Lags alone allow it (all at 0), and so do work and pairs; only together there is no order.
CROWDED = problem(
    task("a", 5, 1),
    task("b", 5, 1),
    task("c", 5, 1),
    lags=tuple(from_start(first, then, maximum=4) for first in "abc" for then in "abc" if first != then),
)


def test_day_that_only_the_search_finds_impossible_is_infeasible():
    plan = answer(CROWDED)

    assert plan.status == "infeasible"
    assert plan.reason == "No order keeps all lags, windows and resources at once."


def test_without_time_the_list_schedulers_plan_is_feasible():
    # Three tasks of 10 for two people: the bound is 15, the list scheduler's plan 20, not proven.
    day = problem(task("a", 10, 1), task("b", 10, 1), task("c", 10, 1))

    plan = answer(day, SearchLimits(seconds=0, workers=1))

    assert (plan.status, plan.makespan, plan.bound, plan.gap) == ("feasible", 20, 15, 0.25)


def test_without_time_and_without_a_plan_the_time_is_out():
    plan = answer(CROWDED, SearchLimits(seconds=0, workers=1))

    assert plan.status == Status.OUT_OF_TIME
    assert (plan.makespan, plan.bound, plan.gap, plan.starts) == (None, None, None, {})


def test_seconds_are_what_the_stopwatch_says():
    ticking = iter(range(100))

    plan = solve(problem(task("a", 1)), limits=ONE_WORKER, clock=lambda: float(next(ticking)))

    assert plan.seconds > 0


def test_same_seed_and_one_worker_repeat_the_plan():
    day = problem(
        *[task(name, minutes, 1) for name, minutes in zip("abcdefg", [7, 5, 9, 4, 8, 6, 3], strict=True)]
    )

    assert answer(day).starts == answer(day).starts


def test_plan_that_breaks_a_rule_is_never_handed_out(monkeypatch):
    # The two overlap from 10 to 15, and end as early as the work lets them.
    day = problem(task("a", 10, 1), task("b", 10, 1), people=1)
    monkeypatch.setattr("crews.dayplan.solve.schedule_by_rules", lambda *_, **__: (5, 10))

    with pytest.raises(BrokenPlan):
        answer(day, SearchLimits(seconds=0, workers=1))


@settings(max_examples=60, deadline=None)
@given(day=problems())
def test_every_answer_passes_the_independent_check(day):
    plan = answer(day)

    assert plan.status in {"optimal", "infeasible"}
    assert verify(day, plan) == ()


@settings(max_examples=40, deadline=None)
@given(day=problems(most_tasks=3, longest=4))
def test_shortest_plan_equals_brute_force(day):
    # The brute force tries all starts up to 16; days that need more are left out.
    plan = answer(day)
    assume(plan.makespan is None or plan.makespan <= 16)

    assert shortest_by_brute_force(day, latest=16) == plan.makespan


@settings(max_examples=60, deadline=None)
@given(day=problems())
def test_another_pair_of_hands_never_lengthens_the_plan(day):
    (people,) = day.resources
    more = replace(day, resources=(replace(people, capacity=people.capacity + 2),))

    few_hands, more_hands = answer(day), answer(more)

    if few_hands.makespan is not None:
        assert more_hands.makespan is not None
        assert more_hands.makespan <= few_hands.makespan


@settings(max_examples=60, deadline=None)
@given(day=problems())
def test_bound_is_never_above_a_plan_without_search(day):
    quick = answer(day, SearchLimits(seconds=0, workers=1))
    best = answer(day)

    if quick.makespan is not None:
        assert quick.bound <= best.makespan <= quick.makespan


def test_gap_is_the_share_above_the_bound():
    assert DayPlan(Status.FEASIBLE, 0.0, makespan=20, bound=15).gap == 0.25
