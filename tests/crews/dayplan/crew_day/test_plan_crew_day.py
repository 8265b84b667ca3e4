"""Days worked out by hand, and what holds for every day."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crews.dayplan.crew_day.day import ClockSpan, CrewDay, clock
from crews.dayplan.crew_day.plan import CrewPlan
from crews.dayplan.crew_day.solve import BrokenCrewPlan, plan_crew_day
from crews.dayplan.crew_day.verify import verify_crew_plan
from openings.methods.load import load_method
from projects.errors import BadValue
from tests.crews.dayplan.crew_day.days import (
    EIGHT,
    MARCH_2,
    NOON,
    crew_day,
    facts,
    method_visit,
    opening,
    quarters,
    shut,
    times,
)

SEALED = {"over_fin": "sealed", "fin": "folding", "corners": "open"}


def marks(plan: CrewPlan) -> list[str]:
    return [each.visit.mark for each in plan.visits]


def test_two_people_prepare_and_run_the_bead_side_by_side():
    # Both walk 5 min. One preps 5-25. The bead (4) may start 12 before the set at the earliest: 13-17.
    # Both set 25-33, one fastens 33-38.
    plan = plan_crew_day(crew_day(), [opening()])

    assert times(plan) == {"bead": (13, 17), "prep": (5, 25), "set": (25, 33), "fasten": (33, 38)}
    assert plan.ends_at == EIGHT + 38


def test_person_alone_does_not_set_what_takes_two():
    plan = plan_crew_day(crew_day(people=1), [opening()])

    assert plan.visits == ()
    assert plan.left_over[0].reason == "It takes 2 people; the crew has 1."


def test_step_is_not_cut_by_a_break():
    # Break 20-50: prep's 20 min don't fit into 5-20, so it is 50-70. Bead 58-62, set 70-78, fasten 78-83.
    day = crew_day(breaks=(ClockSpan(EIGHT + 20, EIGHT + 50),))

    assert times(plan_crew_day(day, [opening()])) == {
        "bead": (58, 62),
        "prep": (50, 70),
        "set": (70, 78),
        "fasten": (78, 83),
    }


def test_flap_waits_until_the_face_bead_is_tack_free():
    # Face bead after fastening: 38-47; flap 60 min later: 107-111.
    plan = plan_crew_day(crew_day(), [opening(with_flap=True)])

    flap = plan.visits[0].step("flap")
    assert times(plan)["face"] == (38, 47)
    assert (flap.start, flap.end) == (EIGHT + 107, EIGHT + 111)
    assert flap.wait_until == EIGHT + 107
    assert flap.why == "The face bead is tack-free."


def test_set_names_the_last_minute_to_start_it():
    # The bead starts at 13, and the set at most 12 later.
    set_step = plan_crew_day(crew_day(), [opening()]).visits[0].step("set")

    assert set_step.no_later_than == EIGHT + 25
    assert set_step.why == "The bead skins."
    assert set_step.hands == (1, 2)


def test_step_waits_for_the_rain_to_end():
    # Rain until 8:30: prep 30-50, set 50-58, fasten 58-63.
    plan = plan_crew_day(crew_day(), [opening(prep=(shut(0, EIGHT + 30),))])

    prep = plan.visits[0].step("prep")
    assert times(plan)["prep"] == (30, 50)
    assert (prep.wait_until, prep.why) == (EIGHT + 30, "Rain.")
    assert plan.ends_at == EIGHT + 63


def test_opening_that_the_weather_forbids_all_day_is_left_with_the_reason():
    plan = plan_crew_day(crew_day(), [opening(prep=(shut(0, 1440),)), opening("W2")])

    assert marks(plan) == ["W2"]
    assert plan.left_over[0].reason == "Prep: no 20 min are left for it before 12:00. Rain."


def test_opening_that_cannot_be_done_today_is_left_with_its_reason():
    plan = plan_crew_day(crew_day(), [opening(impossible="It needs a lift.")])

    assert plan.visits == ()
    assert plan.left_over[0].reason == "It needs a lift."


def test_opening_that_would_not_be_finished_is_not_begun():
    # 33 min end before the fastening would: 38.
    plan = plan_crew_day(crew_day(end=EIGHT + 37), [opening()], may_cover=False)

    assert plan.visits == ()
    assert plan.left_over[0].reason.startswith("Fasten: no 5 min are left for it before 8:37.")


def test_day_that_is_just_long_enough_finishes_the_opening():
    assert plan_crew_day(crew_day(end=EIGHT + 38), [opening()]).ends_at == EIGHT + 38


def test_first_opening_left_is_prepared_and_covered_where_there_is_time():
    # Two do W1 until 38. The third preps W2 5-25; to set it somebody must come from W1, there at 38: 38 + 8
    # is past the end at 40. So it is covered: 25-31.
    plan = plan_crew_day(crew_day(people=3, end=EIGHT + 40), [opening(), opening("W2"), opening("W3")])

    assert sorted(marks(plan)) == ["W1", "W2"]
    assert [each.visit.mark for each in plan.visits if each.is_covered] == ["W2"]
    assert times(plan, "W2") == {"prep": (5, 25), "cover": (25, 31)}
    assert [each.visit.mark for each in plan.left_over] == ["W2", "W3"]
    assert "covered" in plan.left_over[0].reason


def test_opening_is_not_begun_where_even_its_cover_does_not_fit():
    # Two people: neither has 26 min free for prep and cover before 40.
    plan = plan_crew_day(crew_day(end=EIGHT + 40), [opening(), opening("W2")])

    assert marks(plan) == ["W1"]
    assert plan.left_over[0].reason.startswith("The day is full.")


def test_smaller_opening_behind_fills_the_rest_of_the_day():
    # W2 needs until far beyond; W3 has no flap and fits.
    long, short = opening("W2", with_flap=True), opening("W3")

    plan = plan_crew_day(crew_day(end=EIGHT + 100), [opening(), long, short], may_cover=False)

    assert marks(plan) == ["W1", "W3"]


def test_walk_to_another_house_takes_longer():
    # Both end W1 at 33 and 38; the next house is 20 min away: prep from 53 (the one free at 33).
    plan = plan_crew_day(crew_day(), [opening(), opening("W2", house="H2")])

    assert times(plan, "W2")["prep"] == (53, 73)


def test_hold_points_stand_at_their_minutes():
    plan = plan_crew_day(crew_day(), [opening()])

    (hold,) = plan.hold_points
    assert (hold.at, hold.hold.signs) == (EIGHT + 38, "foreman")


def test_each_persons_lane_lists_what_they_do_in_order():
    plan = plan_crew_day(crew_day(), [opening()])

    lanes = [[step.code for _, step in plan.lane(hand)] for hand in (1, 2)]
    assert sorted(lanes) == [["bead", "set"], ["prep", "set", "fasten"]] or sorted(lanes) == [
        ["bead", "set", "fasten"],
        ["prep", "set"],
    ]


def test_day_without_openings_has_no_steps():
    plan = plan_crew_day(crew_day(), [])

    assert (plan.visits, plan.left_over, plan.ends_at) == ((), (), None)


def test_opening_with_nothing_left_to_do_is_said():
    done = replace(opening(), steps=(), order=(), lags=(), cover=None)

    plan = plan_crew_day(crew_day(), [done])

    assert plan.left_over[0].reason == "Nothing is left to do here on this day."


def test_opening_given_twice_is_refused():
    with pytest.raises(BadValue, match="given twice"):
        plan_crew_day(crew_day(), [opening(), opening()])


def test_plan_that_breaks_a_rule_is_never_handed_out(monkeypatch):
    monkeypatch.setattr(
        "crews.dayplan.crew_day.solve.verify_crew_plan",
        lambda *_, **__: ("W1: set starts before prep is done.",),
    )

    with pytest.raises(BrokenCrewPlan):
        plan_crew_day(crew_day(), [opening()])


def test_same_openings_give_the_same_plan():
    visits = [method_visit("B1", facts(f"W{number}"), **SEALED) for number in range(1, 8)]
    day = CrewDay(MARCH_2, 3)

    assert plan_crew_day(day, visits) == plan_crew_day(day, visits)


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
