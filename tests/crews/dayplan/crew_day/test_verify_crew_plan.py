"""The check refuses every kind of broken day."""

from __future__ import annotations

from dataclasses import replace

import pytest

from crews.dayplan.crew_day.day import ClockSpan
from crews.dayplan.crew_day.plan import CrewPlan, LeftOver, PlannedStep, PlannedVisit
from crews.dayplan.crew_day.verify import verify_crew_plan
from tests.crews.dayplan.crew_day.days import EIGHT, crew_day, opening, shut

DAY = crew_day(end=EIGHT + 200, breaks=(ClockSpan(EIGHT + 120, EIGHT + 150),))
FIRST = opening("W1", with_flap=True, prep=(shut(EIGHT + 150, EIGHT + 160),))
SECOND = opening("W2")
THIRD = opening("W3")


def at(code, start, minutes, *hands):
    return PlannedStep(code, code, EIGHT + start, EIGHT + start + minutes, hands)


# W1 as in the hand-worked day; then person 2 goes to W2 (38), person 1 follows after the face bead at 47.
FIRST_STEPS = (
    at("prep", 5, 20, 1),
    at("bead", 13, 4, 2),
    at("set", 25, 8, 1, 2),
    at("fasten", 33, 5, 1),
    at("face", 38, 9, 1),
    at("flap", 107, 4, 1),
)
SECOND_STEPS = (
    at("prep", 38, 20, 2),
    at("bead", 54, 4, 1),
    at("set", 58, 8, 1, 2),
    at("fasten", 66, 5, 2),
)
THIRD_STEPS = (at("prep", 160, 20, 2), at("cover", 180, 6, 2))
GOOD = CrewPlan(
    (
        PlannedVisit(FIRST, FIRST_STEPS),
        PlannedVisit(SECOND, SECOND_STEPS),
        PlannedVisit(THIRD, THIRD_STEPS, is_covered=True),
    ),
    (LeftOver(THIRD, "The day is full."),),
)


def check(plan, day=DAY):
    return verify_crew_plan(day, [FIRST, SECOND, THIRD], plan=plan)


def changed(visit, code, **what):
    """The good plan with one step changed; start moves the end along unless that is given too."""
    visits = []
    for planned in GOOD.visits:
        steps = planned.steps
        if planned.visit is visit:
            steps = tuple(_moved(step, **what) if step.code == code else step for step in steps)
        visits.append(replace(planned, steps=steps))
    return replace(GOOD, visits=tuple(visits))


def _moved(step, start=None, end=None, hands=None):
    first = step.start if start is None else EIGHT + start
    last = first + (step.end - step.start) if end is None else EIGHT + end
    return replace(step, start=first, end=last, hands=step.hands if hands is None else hands)


def without(visit, code):
    return replace(
        GOOD,
        visits=tuple(
            replace(
                each, steps=tuple(step for step in each.steps if (each.visit, step.code) != (visit, code))
            )
            for each in GOOD.visits
        ),
    )


def test_good_day_breaks_nothing():
    assert check(GOOD) == ()


@pytest.mark.parametrize(
    ("plan", "told"),
    [
        (changed(FIRST, "set", start=24), "set starts before prep is done"),
        (changed(FIRST, "bead", start=12), "set starts 13 min after bead, more than 12"),
        (changed(FIRST, "flap", start=106), "flap starts 59 min after face, less than 60"),
        (changed(FIRST, "flap", start=118), "runs into a break"),
        (changed(FIRST, "flap", start=197), "leaves the working day"),
        (changed(FIRST, "prep", start=-10), "leaves the working day"),
        (changed(FIRST, "prep", start=155), "the weather forbids it. Rain."),
        (changed(FIRST, "prep", end=24), "19 min planned, 20 needed"),
        (changed(FIRST, "set", hands=(1,)), "hands (1,), 2 needed"),
        (changed(FIRST, "set", hands=(1, 1)), "hands (1, 1), 2 needed"),
        (changed(FIRST, "prep", hands=(3,)), "somebody who isn't in the crew"),
        (changed(FIRST, "bead", hands=(1,)), "at the same time"),
        (changed(FIRST, "prep", start=4), "before walking there from the truck"),
        (changed(SECOND, "prep", start=37), "no 5 min to walk from W1 to W2"),
        (changed(SECOND, "bead", start=51), "no 5 min to walk from W1 to W2"),
        (without(FIRST, "flap"), "W1: flap is not planned"),
        (without(THIRD, "cover"), "is not covered once"),
        (without(THIRD, "prep"), ""),
        (changed(THIRD, "cover", end=185), "is not covered once, for 6 min"),
        (changed(THIRD, "cover", start=179), "covered before its other steps are done"),
        (changed(THIRD, "cover", hands=(1, 2)), "is covered by 2, not 1"),
        (replace(GOOD, visits=GOOD.visits[1:]), "H / Front / W1 is not once in the plan or left over"),
        (replace(GOOD, visits=(*GOOD.visits, GOOD.visits[0])), "is not once in the plan or left over"),
        (replace(GOOD, left_over=()), "W3 is not once in the plan or left over"),
        (replace(GOOD, left_over=(LeftOver(THIRD, ""),)), "left over without a reason"),
        (replace(GOOD, left_over=(*GOOD.left_over, LeftOver(FIRST, "x"))), "W1 is not once"),
        (
            replace(GOOD, left_over=(*GOOD.left_over, LeftOver(opening("W9"), "x"))),
            "W9 is no opening of this day",
        ),
        (
            replace(
                GOOD,
                visits=(
                    replace(GOOD.visits[0], steps=(*FIRST_STEPS, at("paint", 190, 5, 2))),
                    *GOOD.visits[1:],
                ),
            ),
            "paint is no step of it",
        ),
        (
            replace(
                GOOD,
                visits=(replace(GOOD.visits[0], steps=(*FIRST_STEPS, FIRST_STEPS[-1])), *GOOD.visits[1:]),
            ),
            "a step is planned twice",
        ),
    ],
)
def test_each_way_of_breaking_a_day_is_told(plan, told):
    if told == "":
        # Covering what nobody has opened is odd, but nothing is left open.
        assert check(plan) == ()
        return
    assert any(told in broken for broken in check(plan)), check(plan)


def test_covered_opening_must_not_be_set_already():
    steps = (*THIRD_STEPS[:1], at("bead", 176, 4, 1), at("set", 180, 8, 1, 2), at("cover", 190, 6, 2))
    plan = replace(GOOD, visits=(*GOOD.visits[:2], PlannedVisit(THIRD, steps, is_covered=True)))

    assert any("although it is closed" in broken for broken in check(plan))


def test_covered_opening_must_have_a_cover():
    bare = replace(THIRD, cover=None)
    plan = replace(GOOD, visits=(*GOOD.visits[:2], PlannedVisit(bare, THIRD_STEPS, is_covered=True)))

    assert any("no cover for the night" in broken for broken in check(plan))


def test_step_is_not_done_without_its_forerunner_in_a_covered_opening():
    # Fastening stands without the set it comes after.
    plan = replace(
        GOOD,
        visits=(
            *GOOD.visits[:2],
            PlannedVisit(
                THIRD, (THIRD_STEPS[0], at("fasten", 180, 5, 2), at("cover", 190, 6, 2)), is_covered=True
            ),
        ),
    )

    assert any("fasten is planned without set" in broken for broken in check(plan))


def test_smaller_crew_breaks_the_same_plan():
    assert check(GOOD, crew_day(people=1, end=EIGHT + 200, breaks=DAY.breaks))
