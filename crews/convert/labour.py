"""How long each step of an opening takes whom, weather and waits apart; no query here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from crews.costing.inputs import StepTime
from crews.dayplan.crew_day.from_method import OpeningFacts, scale
from openings.methods.choices import Choices
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
    factor = scale(Fraction(1), facts=facts_of(takeoff, reach), pace=method.pace)
    choices = choices_of(method, takeoff.opening, specification)
    return _steps(method.code, choices, factor=factor, to_set=takeoff.people, people=people)


@lru_cache(maxsize=4096)
def _steps(
    code: str, choices: Choices, *, factor: Fraction, to_set: int, people: int
) -> tuple[StepTime, ...]:
    # builders repeat their windows: a company's openings share a few dozen of these
    method = load_method(code)
    steps = []
    for step in method.steps_for(choices):
        if step.by_others:
            continue
        work = Fraction(step.work.seconds, 60) * (factor if step.scaling == "size" else 1)
        hands = to_set if step.people > 1 else step.people
        steps.append(StepTime(step.label, work / step.people, hands))
    return (*steps, StepTime(MOVE, Fraction(method.pace.move.seconds, 60), people))


def person_minutes(steps: Iterable[StepTime]) -> Fraction:
    """Return the work of the steps together."""
    return sum((Fraction(step.person_minutes) for step in steps), Fraction(0))
