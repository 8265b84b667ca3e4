"""Days worked out by hand, and what holds for every day."""

from __future__ import annotations

from dataclasses import replace

import pytest

from crews.dayplan.crew_day.day import ClockSpan, CrewDay
from crews.dayplan.crew_day.plan import CrewPlan
from crews.dayplan.crew_day.solve import BrokenCrewPlan, plan_crew_day
from projects.errors import BadValue
from tests.crews.dayplan.crew_day.days import (
    EIGHT,
    MARCH_2,
    crew_day,
    facts,
    method_visit,
    opening,
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
