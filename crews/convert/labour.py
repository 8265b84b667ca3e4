"""How long each step of an opening takes whom, weather and waits apart; no query here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from crews.costing.inputs import StepTime
from crews.dayplan.crew_day.from_method import OpeningFacts, scale
from openings.methods.load import load_method
from openings.methods.method import Method
from openings.selectors.pages import choices_of
from openings.takeoff.compute import OpeningTakeoff
from openings.takeoff.specification import Specification

MOVE = "Move to the opening"


@dataclass(frozen=True, slots=True)
class Reach:
    """Where an opening is and how it is reached; `done` are its steps of earlier days."""

    house: str
    elevation: str
    access: str
    has_lift: bool = False
    done: frozenset[str] = frozenset()


def facts_of(takeoff: OpeningTakeoff, reach: Reach) -> OpeningFacts:
    """Return what a day needs to know of the opening; a lift sets what is too heavy for hands."""
    value = takeoff.opening
    return OpeningFacts(
        house=reach.house,
        elevation=reach.elevation,
        mark=value.mark,
        width=value.unit_width,
        height=value.unit_height,
        weight=takeoff.weight,
        access=reach.access,
        has_lift=reach.has_lift,
        done=reach.done,
    )


def method_of(takeoff: OpeningTakeoff, specification: Specification) -> Method:
    """Return the opening's method: its row's, else the specification's."""
    return load_method(takeoff.opening.method or specification.method)


def step_times(
    takeoff: OpeningTakeoff, specification: Specification, *, reach: Reach, people: int
) -> tuple[StepTime, ...]:
    """Return the opening's steps in order, and the crew's move to it; `people` is the crew's size.

    A step that takes two takes the hands that set the unit: three for a heavy one.
    """
    method = method_of(takeoff, specification)
    facts = facts_of(takeoff, reach)
    steps = []
    for step in method.steps_for(choices_of(method, takeoff.opening, specification)):
        if step.by_others:
            continue
        work = Fraction(step.work.seconds, 60)
        if step.scaling == "size":
            work = scale(work, facts=facts, pace=method.pace)
        hands = takeoff.people if step.people > 1 else step.people
        steps.append(StepTime(step.label, work / step.people, hands))
    return (*steps, StepTime(MOVE, Fraction(method.pace.move.seconds, 60), people))


def person_minutes(steps: Iterable[StepTime]) -> Fraction:
    """Return the work of the steps together."""
    return sum((Fraction(step.person_minutes) for step in steps), Fraction(0))
