"""A method's steps become an opening's work for one day: minutes, people, waits, gates. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from crews.cure.gates import Conditions, Gate, gate_spans
from crews.cure.sheet import Sheet
from crews.dayplan.crew_day.day import MIDNIGHT
from crews.dayplan.crew_day.lags import build_lag
from crews.dayplan.crew_day.visit import Closed, Cover, LaterStep, Visit, VisitHold, VisitLag, VisitStep
from crews.dayplan.crew_day.weather import DayWeather, limits, longest_wait, minutes_down, minutes_up
from crews.dayplan.problem import LagKind
from openings.methods.choices import Choices
from openings.methods.laps import step_precedence
from openings.methods.method import Method
from openings.methods.steps import Pace, Step
from projects.errors import BadValue
from projects.quantities.length import Length
from projects.quantities.mass import Mass

# A unit this large (square inches) catches the wind. Source: estimate; 20 sq ft is where facts.md 3 has
# tolerances grow.
LARGE_UNIT_IN2 = 20 * 144
HEAVY_PEOPLE = 3


@dataclass(frozen=True, slots=True)
class OpeningFacts:
    """What the day needs to know of an opening beyond its method. `done` are steps of earlier days.

    `access` is one of the pace's words (ground, ladder, lift); `has_lift` says that a lift sets the unit;
    `offset` is the opening's distance from the left end of its elevation, None where nobody measured it.
    """

    house: str
    elevation: str
    mark: str
    width: Length
    height: Length
    weight: Mass | None = None
    access: str = "ground"
    has_lift: bool = False
    offset: Length | None = None
    done: frozenset[str] = frozenset()


def build_visit(facts: OpeningFacts, *, method: Method, choices: Choices, weather: DayWeather) -> Visit:
    """Return the opening's work for the day of `weather`.

    Steps by others, what follows them, and what must wait longer than a day are for later. Raises BadValue
    where the pace doesn't know the access.
    """
    planned, later = _split(method, choices, facts=facts, weather=weather)
    codes = {step.code for step in planned}
    steps = tuple(_step(step, method, choices=choices, facts=facts, weather=weather) for step in planned)
    lags: list[VisitLag] = []
    for lag in method.lags:
        if {lag.from_step, lag.to_step} <= codes:
            built, closed = build_lag(
                lag, minutes={step.code: step.minutes for step in steps}, weather=weather
            )
            lags.append(built)
            steps = tuple(
                replace(step, closed=(*step.closed, *closed)) if step.code == lag.from_step else step
                for step in steps
            )
    return Visit(
        house=facts.house,
        elevation=facts.elevation,
        mark=facts.mark,
        steps=steps,
        order=tuple(pair for pair in step_precedence(method, choices) if codes.issuperset(pair)),
        lags=tuple(lags),
        holds=_holds(method, choices, done=facts.done),
        cover=_cover(method, codes),
        later=later,
        impossible=_impossible(method, facts=facts, steps=steps, lags=lags, later=later),
    )


def scale(work: Fraction, *, facts: OpeningFacts, pace: Pace) -> Fraction:
    """Return `work` times the factors of size and access.

    Between the pace's sizes the factor goes with the unit's area; beyond the largest it keeps its slope,
    below the smallest it stays. Raises BadValue where the pace doesn't know the access.
    """
    access = dict(pace.access)
    if facts.access not in access:
        raise BadValue(
            problem=f"{facts.mark}: access {facts.access!r} has no factor.",
            remedy=f"Use one of: {', '.join(access)}.",
            value=facts.access,
        )
    return work * access[facts.access] * _size_factor(facts, pace)


def _size_factor(facts: OpeningFacts, pace: Pace) -> Fraction:
    area = facts.width.exact_inches * facts.height.exact_inches
    points = sorted((size.width.exact_inches * size.height.exact_inches, size.factor) for size in pace.sizes)
    if len(points) < 2 or area <= points[0][0]:
        return points[0][1] if points else Fraction(1)
    upper = next((place for place, (size, _) in enumerate(points) if size >= area), len(points) - 1)
    (small, low), (large, high) = points[upper - 1], points[upper]
    return low + (high - low) * (area - small) / (large - small)


def _split(
    method: Method, choices: Choices, *, facts: OpeningFacts, weather: DayWeather
) -> tuple[tuple[Step, ...], tuple[LaterStep, ...]]:
    """Return the steps for today and those for later, in the method's order."""
    follows = step_precedence(method, choices)
    today: list[Step] = []
    later: dict[str, LaterStep] = {}
    for step in method.steps_for(choices):
        if step.code in facts.done:
            continue
        why = _why_later(step, method, choices=choices, weather=weather)
        waits_for = [first for first, then in follows if then == step.code and first in later]
        if not why and waits_for:
            why = f"After: {later[waits_for[0]].label}."
        if why:
            later[step.code] = LaterStep(step.code, step.label, why)
        else:
            today.append(step)
    return tuple(today), tuple(later.values())


def _why_later(step: Step, method: Method, *, choices: Choices, weather: DayWeather) -> str:
    if step.by_others:
        return "Others do it."
    here = {each.code for each in method.steps_for(choices)}
    for lag in method.lags:
        if lag.to_step == step.code and lag.from_step in here and lag.min is not None:
            wait = longest_wait(lag.min, weather)
            if wait is not None and minutes_up(wait.duration) >= MIDNIGHT:
                return f"{lag.why} {wait.why}"
    return ""


def _step(
    step: Step, method: Method, *, choices: Choices, facts: OpeningFacts, weather: DayWeather
) -> VisitStep:
    people = _people(step, facts=facts, pace=method.pace)
    work = Fraction(step.work.seconds, 60)
    if step.scaling == "size":
        work = scale(work, facts=facts, pace=method.pace)
    minutes = math.ceil(work / max(1, step.people))
    return VisitStep(
        code=step.code,
        label=step.label,
        minutes=minutes,
        people=people,
        is_outside="daylight" in step.gates,
        closed=_closed(step, method=method, choices=choices, facts=facts, weather=weather),
        notes=_notes(step, minutes=minutes, people=people, weather=weather),
    )


def _people(step: Step, *, facts: OpeningFacts, pace: Pace) -> int:
    """Return the hands a step takes; the steps that take two take three for a heavy unit."""
    is_heavy = facts.weight is not None and facts.weight > pace.three_above
    return max(step.people, HEAVY_PEOPLE) if step.people > 1 and is_heavy else step.people


def _notes(step: Step, *, minutes: int, people: int, weather: DayWeather) -> tuple[str, ...]:
    notes = []
    if people > step.people:
        notes.append(f"Heavy unit: {people} people.")
    if step.within is not None:
        limit = min(
            (wait for _, wait in limits(step.within, weather)),
            key=lambda wait: wait.duration,
            default=None,
        )
        if limit is not None and minutes_down(limit.duration) < minutes:
            notes.append(f"Do it side by side, each within {minutes_down(limit.duration)} min. {limit.why}")
    return tuple(notes)


def _closed(
    step: Step, *, method: Method, choices: Choices, facts: OpeningFacts, weather: DayWeather
) -> tuple[Closed, ...]:
    """Return the spans of the day in which the weather doesn't allow the step."""
    if weather.forecast is None or not step.gates:
        return ()
    layers = [layer for layer in method.layers_for(choices) if layer.name in step.layers]
    conditions = Conditions(
        gates=frozenset(map(Gate, step.gates)),
        sheets=_sheets(weather.sheets, [layer.material_for(choices) for layer in layers]),
        is_large=facts.width.exact_inches * facts.height.exact_inches >= LARGE_UNIT_IN2,
    )
    spans = gate_spans(conditions, forecast=weather.forecast, limits=weather.limits)
    return tuple(
        Closed(today, span.reasons)
        for span in spans
        if not span.is_open and (today := weather.part_of_day(span.start, span.end)) is not None
    )


def _sheets(sheets: Mapping[str, Sheet], materials: Iterable[str]) -> tuple[Sheet, ...]:
    return tuple(dict.fromkeys(sheets[material] for material in materials if material in sheets))


def _holds(method: Method, choices: Choices, *, done: frozenset[str]) -> tuple[VisitHold, ...]:
    here = {step.code for step in method.steps_for(choices)} - done
    return tuple(
        VisitHold(hold.step, hold.place == "before", hold.label, hold.looks, hold.signs)
        for hold in method.hold_points
        if hold.step in here
    )


def _cover(method: Method, codes: set[str]) -> Cover | None:
    for rule in method.night_rules:
        if rule.kind == "cover" and {rule.opened_by, rule.closed_by} <= codes:
            minutes = math.ceil(Fraction(rule.work.seconds, 60) / max(1, rule.people))
            return Cover(rule.label, rule.opened_by, rule.closed_by, minutes, rule.people)
    return None


def _impossible(
    method: Method,
    *,
    facts: OpeningFacts,
    steps: Sequence[VisitStep],
    lags: Sequence[VisitLag],
    later: Sequence[LaterStep],
) -> str:
    """Return why the opening can't be done today, empty where it may be tried."""
    pace = method.pace
    if facts.weight is not None and facts.weight > pace.lift_above and not facts.has_lift:
        pounds, limit = facts.weight.in_pounds, pace.lift_above.in_pounds
        return f"It weighs {pounds:.0f} lb: above {limit:.0f} lb a lift sets it."
    codes = {step.code for step in steps}
    for rule in method.night_rules:
        ending = next((step for step in later if step.code == rule.closed_by), None)
        if rule.opened_by in codes and ending is not None:
            return (
                f"{rule.label}; {ending.label[0].lower()}{ending.label[1:]} can't follow today: {ending.why}"
            )
    minutes = {step.code: step.minutes for step in steps}
    for lag in lags:
        counted = minutes[lag.before] if lag.kind is LagKind.START_START else 0
        if lag.maximum is not None and lag.maximum < counted:
            return f"{lag.why} At {facts.mark} that is {counted - lag.maximum} min short."
    return ""
