"""Days of the real methods: as many openings as the guide has, tidy, dry, and verified in any weather."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crews.dayplan.crew_day.day import ClockSpan, CrewDay, clock
from crews.dayplan.crew_day.plan import CrewPlan
from crews.dayplan.crew_day.solve import plan_crew_day
from crews.dayplan.crew_day.verify import verify_crew_plan
from openings.methods.load import load_method
from projects.quantities.mass import Mass
from tests.crews.dayplan.crew_day.days import MARCH_2, NOON, facts, method_visit, quarters

SEALED = {"over_fin": "sealed", "fin": "folding", "corners": "open"}


def marks(plan: CrewPlan) -> list[str]:
    return [each.visit.mark for each in plan.visits]


# Source: field guide 8: a pair does about 8 openings a day, three people 10.
@pytest.mark.parametrize(("people", "openings"), [(2, 8), (3, 10)])
def test_crew_does_the_guides_openings_in_a_day(people, openings):
    visits = [method_visit("B1", facts(f"W{number}")) for number in range(1, 13)]

    plan = plan_crew_day(CrewDay(MARCH_2, people), visits)

    assert len([each for each in plan.visits if not each.is_covered]) >= openings


def test_steps_of_one_opening_lie_close_together():
    # Without a tack-free wait the steps take about 40 min on the clock; nobody leaves an opening for hours.
    visits = [method_visit("B1", facts(f"W{number}")) for number in range(1, 11)]

    plan = plan_crew_day(CrewDay(MARCH_2, 3), visits)

    spans = [
        each.steps[-1].end
        - each.steps[0].start
        - (30 if each.steps[0].start < NOON < each.steps[-1].end else 0)
        for each in plan.visits
        if not each.is_covered
    ]
    assert max(spans) < 120
    assert sum(spans) / len(spans) < 75


def test_openings_begin_in_walking_order():
    visits = [method_visit("B1", facts(f"W{number}")) for number in range(1, 9)]

    plan = plan_crew_day(CrewDay(MARCH_2, 2), visits)

    assert marks(plan) == [f"W{number}" for number in range(1, len(plan.visits) + 1)]


def test_flap_is_down_before_the_day_ends_on_every_sealed_opening():
    visits = [method_visit("B1", facts(f"W{number}"), **SEALED) for number in range(1, 13)]

    plan = plan_crew_day(CrewDay(MARCH_2, 3), visits)

    finished = [each for each in plan.visits if not each.is_covered]
    assert len(finished) >= 8
    assert all(each.step("flap").end <= 14 * 60 + 45 for each in finished)


@pytest.mark.parametrize("first", range(8 * 60 + 20, 9 * 60 + 20, 10))
def test_no_unit_stands_unfastened_over_a_break(first):
    # A quarter of an hour falls into the first openings, wherever it begins; three people set a heavy unit.
    day = CrewDay(MARCH_2, 3, breaks=(ClockSpan(first, first + 15), ClockSpan(NOON, NOON + 30)))
    heavy = facts("W1", weight=Mass.pounds(118))
    visits = [method_visit("B1", heavy, **SEALED)]
    visits += [method_visit("B1", facts(f"W{number}"), **SEALED) for number in range(2, 6)]

    plan = plan_crew_day(day, visits)

    whole = [each for each in plan.visits if not each.is_covered]
    assert len(whole) >= 4
    assert all(each.step("fasten").start - each.step("set").end <= 5 for each in whole)


def test_rainy_afternoon_ends_the_work_outside_at_noon():
    mild = (15.0, 60.0)
    wet = quarters(mild, mild, mild, mild, rain=(False, False, True, False))
    visits = [method_visit("B1", facts(f"W{number}"), forecast=wet) for number in range(1, 11)]

    plan = plan_crew_day(CrewDay(MARCH_2, 3), visits)

    wet_steps = {each.code for each in load_method("B1").steps if {"rain", "dry"} & set(each.gates)}
    outside = [step for each in plan.visits for step in each.steps if step.code in wet_steps]
    assert len(outside) > 20
    assert all(step.end <= NOON for step in outside), [clock(step.end) for step in outside]
    assert "Rain, and the work is not covered." in plan.left_over[-1].reason


visit_sets = st.lists(
    st.tuples(
        st.sampled_from(["A", "A1", "B", "B1"]),
        st.sampled_from([(24, 36), (36, 60), (72, 60), (30, 54)]),
        st.sampled_from(["ground", "ladder"]),
    ),
    max_size=9,
)


@settings(max_examples=25, deadline=None)
@given(
    rows=visit_sets,
    people=st.integers(2, 4),
    airs=st.lists(st.tuples(st.floats(-5, 38), st.floats(20, 95)), min_size=4, max_size=4),
    rain=st.tuples(*[st.booleans()] * 4),
)
def test_every_day_passes_the_independent_check(rows, people, airs, rain):
    forecast = quarters(*airs, rain=rain)
    day = CrewDay(MARCH_2, people)
    visits = [
        method_visit(code, facts(f"W{number}", *size, access=access), forecast=forecast)
        for number, (code, size, access) in enumerate(rows)
    ]

    plan = plan_crew_day(day, visits)

    assert verify_crew_plan(day, visits, plan=plan) == ()


@pytest.mark.parametrize("count", [5, 9, 12])
def test_longer_day_never_finishes_fewer_openings(count):
    visits = [method_visit("B1", facts(f"W{number}")) for number in range(count)]
    short, long = CrewDay(MARCH_2, 2), replace(CrewDay(MARCH_2, 2), end=17 * 60)

    finished = [
        len([each for each in plan_crew_day(day, visits).visits if not each.is_covered])
        for day in (short, long)
    ]

    assert finished[0] <= finished[1]
