"""What an opening's work consists of: its steps in order, what lies over what; no query here."""

from __future__ import annotations

from dataclasses import dataclass

from crews.dayplan.crew_day.solve import COVER_CODE
from crews.fieldwork.standing import Pair
from openings.methods.laps import step_laps, step_precedence
from openings.methods.load import load_method
from openings.selectors.pages import choices_of
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import Specification


@dataclass(frozen=True, slots=True)
class OpeningWork:
    """An opening's own steps: their words by code in the method's order, what comes first, what laps."""

    labels: dict[str, str]
    order: tuple[Pair, ...]
    laps: frozenset[Pair]


def work_of(value: OpeningInput, specification: Specification) -> OpeningWork:
    """Return the opening's work as its method has it; what others do is not ours to mark.

    The cover for the night is a step of no method: it may be marked whenever a crew puts it up.
    """
    method = load_method(value.method or specification.method)
    choices = choices_of(method, value, specification)
    labels = {step.code: step.label for step in method.steps_for(choices) if not step.by_others}
    order = tuple(pair for pair in step_precedence(method, choices) if labels.keys() >= set(pair))
    for rule in method.night_rules:
        if rule.kind == "cover":
            labels[COVER_CODE] = rule.label
    return OpeningWork(labels, order, step_laps(method, choices))
