"""What follows from two tasks that can't run side by side."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings

from crews.dayplan.bounds import lower_bound
from crews.dayplan.network import Arc, Network, NoOrder
from crews.dayplan.pairs import Distances, Pairs
from tests.crews.dayplan.cases import after, answer, from_start, problem, problems, task


def pairs_of(*tasks, people=1, lags=()):
    return Pairs(Network(problem(*tasks, people=people, lags=lags)))


def test_tasks_that_together_use_too_many_clash():
    # Two people: 2 + 1 is too many, 1 + 1 is not; a task of no minutes uses nobody.
    pairs = pairs_of(task("a", 5, 2), task("b", 5, 1), task("c", 5, 1), task("d", 0, 2), people=2)

    assert pairs.clashing == ((0, 1), (0, 2))


def test_task_that_has_no_room_before_comes_after():
    # b can't start before 8, a must be done by 12 and takes 10: b's 5 min don't fit before a starts at 2.
    pairs = pairs_of(task("a", 10, 1, [(0, 12)]), task("b", 5, 1, [(8, 40)]))

    assert pairs.find_orders(end_by=40) == (Arc(0, 1, 10),)


def test_order_of_one_pair_forces_the_next():
    # All three clash. a is in 0-12, so b (from 8 on) comes after it: from 10. c takes 4 and is done by 16;
    # b's 5 min end at 15 at the earliest, so c is before b. c (from 3 on) is after a, which starts by 2.
    pairs = pairs_of(task("a", 10, 1, [(0, 12)]), task("b", 5, 1, [(8, 40)]), task("c", 4, 1, [(3, 16)]))

    orders = {(arc.before, arc.after) for arc in pairs.find_orders(end_by=40)}

    assert orders == {(0, 1), (0, 2), (2, 1)}


def test_pair_without_any_order_has_no_plan():
    # Each within 4 of the other's start, 5 min each, one person.
    pairs = pairs_of(
        task("a", 5, 1),
        task("b", 5, 1),
        lags=(from_start("a", "b", maximum=4), from_start("b", "a", maximum=4)),
    )

    with pytest.raises(NoOrder, match="neither can come first"):
        pairs.find_orders(end_by=1000)


def test_bound_is_raised_above_work_and_path():
    # One person, b 6 exactly 3 after the start of a (2): a 0-2, b 3-9. c takes 5 and doesn't fit in between:
    # 9 + 5 = 14. The work is 13, the path 9. With c first: 5 + 9 = 14 too.
    pairs = pairs_of(task("a", 2, 1), task("b", 6, 1), task("c", 5, 1), lags=(from_start("a", "b", 3, 3),))

    assert lower_bound(pairs.network) == 13
    assert pairs.raise_bound(bound=13, end=20) == 14


def test_bound_that_holds_already_stays():
    pairs = pairs_of(task("a", 5), task("b", 5), lags=(after("a", "b"),))

    assert pairs.raise_bound(bound=10, end=10) == 10


def test_distances_follow_detours():
    far = -(10**18)
    distances = Distances([[0, far, far], [far, 0, far], [far, far, 0]])

    assert distances.require(0, 1, weight=3)
    assert distances.require(1, 2, weight=4)

    assert distances.rows[0][2] == 7
    assert not distances.require(2, 0, weight=-6)


def test_large_problem_is_left_to_the_search():
    assert pairs_of(*[task(str(number), 1) for number in range(64)]).is_small_enough
    assert not pairs_of(*[task(str(number), 1) for number in range(65)]).is_small_enough


@settings(max_examples=80, deadline=None)
@given(day=problems())
def test_orders_and_bounds_hold_in_the_shortest_plan(day):
    plan = answer(day)
    assume(plan.makespan is not None)
    pairs = Pairs(Network(day))

    starts = [plan.starts[each.name] for each in day.tasks]
    assert pairs.raise_bound(bound=0, end=pairs.network.horizon) <= plan.makespan
    for arc in pairs.find_orders(end_by=plan.makespan):
        assert starts[arc.after] - starts[arc.before] >= arc.weight
