"""The check refuses every kind of broken plan."""

from __future__ import annotations

from dataclasses import replace

import pytest

from crews.dayplan.plan import DayPlan, Status
from crews.dayplan.verify import verify
from tests.crews.dayplan.cases import after, from_start, problem, task

# One person preps, two set within 12 of the bead's start, a flap waits 60 after the face bead; break 60-70.
BEFORE_LUNCH = [(0, 60), (70, 200)]
DAY = problem(
    task("prep", 26, 1, BEFORE_LUNCH),
    task("bead", 4, 1, BEFORE_LUNCH),
    task("set", 8, 2, BEFORE_LUNCH),
    task("face", 9, 1, BEFORE_LUNCH),
    task("flap", 4, 1, BEFORE_LUNCH),
    lags=(
        after("prep", "set"),
        after("bead", "set"),
        from_start("bead", "set", maximum=12),
        after("set", "face"),
        after("face", "flap", 60),
    ),
)
GOOD = DayPlan(
    Status.OPTIMAL,
    0.1,
    makespan=107,
    bound=107,
    starts={"prep": 0, "bead": 20, "set": 26, "face": 34, "flap": 103},
)


def moved(**starts: int) -> DayPlan:
    return replace(GOOD, starts={**GOOD.starts, **starts})


def test_good_plan_breaks_nothing():
    assert verify(DAY, GOOD) == ()


def test_other_plan_that_keeps_everything_is_accepted_too():
    plan = replace(moved(flap=150), status=Status.FEASIBLE, makespan=154, bound=107)

    assert verify(DAY, plan) == ()


@pytest.mark.parametrize(
    ("plan", "told"),
    [
        (moved(prep=-1), "before minute 0"),
        (moved(face=55), "none of its windows"),
        (moved(face=63), "none of its windows"),
        (moved(prep=1), "set starts -1 after prep, less than 0"),
        (moved(bead=23), "set starts -1 after bead, less than 0"),
        (moved(bead=13), "set starts 13 after bead, more than 12"),
        (moved(flap=102), "flap starts 59 after face, less than 60"),
        (moved(bead=26), "3 of people are in use; there are 2"),
        (replace(GOOD, makespan=106), "its last task ends at 107"),
        (replace(GOOD, makespan=108, bound=108), "its last task ends at 107"),
        (replace(GOOD, bound=108), "is not at or below its end"),
        (replace(GOOD, bound=None), "is not at or below its end"),
        (replace(GOOD, bound=100), "called optimal"),
        (replace(GOOD, status=Status.INFEASIBLE), "called infeasible"),
        (replace(GOOD, status=Status.OUT_OF_TIME), "called out of time"),
        (replace(GOOD, starts={"prep": 0}), "bead is not in the plan"),
        (moved(stranger=5), "stranger is in the plan, but no task"),
        (DayPlan(Status.OPTIMAL, 0.0), "has no makespan"),
        (DayPlan(Status.INFEASIBLE, 0.0, bound=3), "a bound but no makespan"),
        (DayPlan(Status.INFEASIBLE, 0.0, starts={"prep": 0}), "starts but no makespan"),
    ],
)
def test_each_way_of_breaking_a_plan_is_told(plan, told):
    assert any(told in broken for broken in verify(DAY, plan)), verify(DAY, plan)


def test_answer_without_a_plan_breaks_nothing():
    assert verify(DAY, DayPlan(Status.INFEASIBLE, 0.0, reason="No order.")) == ()
    assert verify(DAY, DayPlan(Status.OUT_OF_TIME, 0.0)) == ()


def test_people_change_over_at_the_same_minute():
    day = problem(task("a", 10, 2), task("b", 10, 2))
    plan = DayPlan(Status.OPTIMAL, 0.0, makespan=20, bound=20, starts={"a": 0, "b": 10})

    assert verify(day, plan) == ()
