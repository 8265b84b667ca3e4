"""Whether a crew's planned day keeps every rule, checked anew from the day and the openings. Pure.

Nothing here is shared with the scheduler that makes plans, so that its mistakes are found here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from crews.dayplan.crew_day.day import CrewDay
from crews.dayplan.crew_day.plan import CrewPlan, PlannedStep, PlannedVisit
from crews.dayplan.crew_day.visit import Visit, VisitLag
from crews.dayplan.problem import LagKind


def verify_crew_plan(day: CrewDay, visits: Sequence[Visit], *, plan: CrewPlan) -> tuple[str, ...]:
    """Return what `plan` breaks, in words; empty where it keeps everything."""
    return (
        *_accounts_for_every_opening(visits, plan),
        *(found for planned in plan.visits for found in _visit(day, planned)),
        *(found for hand in range(1, day.people + 1) for found in _person(day, plan, hand=hand)),
    )


def _accounts_for_every_opening(visits: Sequence[Visit], plan: CrewPlan) -> Iterator[str]:
    """Every opening is planned or left over with a reason, once; one that is covered is both."""
    done = [planned.visit.name for planned in plan.visits if not planned.is_covered]
    covered = [planned.visit.name for planned in plan.visits if planned.is_covered]
    left = [each.visit.name for each in plan.left_over]
    for visit in visits:
        if done.count(visit.name) + left.count(visit.name) != 1:
            yield f"{visit.name} is not once in the plan or left over."
    known = {visit.name for visit in visits}
    yield from (f"{name} is no opening of this day." for name in {*done, *covered, *left} - known)
    yield from (f"{name} is covered, but not left for another day." for name in covered if name not in left)
    yield from (
        f"{each.visit.name} is left over without a reason." for each in plan.left_over if not each.reason
    )


def _visit(day: CrewDay, planned: PlannedVisit) -> Iterator[str]:
    visit, steps = planned.visit, {step.code: step for step in planned.steps}
    if len(steps) < len(planned.steps):
        yield f"{visit.mark}: a step is planned twice."
    yield from _is_whole(planned, steps)
    for wanted in visit.steps:
        step = steps.get(wanted.code)
        if step is None:
            continue
        if step.end - step.start != wanted.minutes:
            yield f"{visit.mark}, {step.code}: {step.end - step.start} min planned, {wanted.minutes} needed."
        if len(set(step.hands)) != wanted.people or len(step.hands) != wanted.people:
            yield f"{visit.mark}, {step.code}: hands {step.hands}, {wanted.people} needed."
        if any(not 1 <= hand <= day.people for hand in step.hands):
            yield f"{visit.mark}, {step.code}: hands {step.hands} name somebody who isn't in the crew."
        for closed in wanted.closed:
            if step.start < closed.span.end and closed.span.start < step.end:
                yield f"{visit.mark}, {step.code}: the weather forbids it. {' '.join(closed.reasons)}"
    yield from (found for step in planned.steps for found in _time_of_day(day, visit, step=step))
    for first, then in visit.order:
        if first in steps and then in steps and steps[then].start < steps[first].end:
            yield f"{visit.mark}: {then} starts before {first} is done."
    yield from (found for lag in visit.lags for found in _lag(visit, lag, steps=steps))


def _is_whole(planned: PlannedVisit, steps: dict[str, PlannedStep]) -> Iterator[str]:
    """An opening is finished, or whatever is open in it is covered before the day's end."""
    visit = planned.visit
    missing = [step.code for step in visit.steps if step.code not in steps]
    unknown = steps.keys() - {step.code for step in visit.steps}
    if not planned.is_covered:
        yield from (f"{visit.mark}: {code} is not planned." for code in missing)
        yield from (f"{visit.mark}: {code} is no step of it." for code in unknown)
        return
    if visit.cover is None:
        yield f"{visit.mark} has no cover for the night."
        return
    covers = [steps[code] for code in unknown]
    others = [step for step in planned.steps if step.code not in unknown]
    if visit.cover.closed_by in steps:
        yield f"{visit.mark} is covered, although it is closed."
    if len(covers) != 1 or covers[0].end - covers[0].start != visit.cover.minutes:
        yield f"{visit.mark} is not covered once, for {visit.cover.minutes} min."
    elif len(covers[0].hands) != visit.cover.people:
        yield f"{visit.mark} is covered by {len(covers[0].hands)}, not {visit.cover.people}."
    elif any(step.end > covers[0].start for step in others):
        yield f"{visit.mark} is covered before its other steps are done."
    for first, then in visit.order:
        if then in steps and first in missing:
            yield f"{visit.mark}: {then} is planned without {first}."


def _time_of_day(day: CrewDay, visit: Visit, *, step: PlannedStep) -> Iterator[str]:
    first, last = day.start + day.set_up, day.end - day.clean_up
    if step.start < first or step.end > last:
        yield f"{visit.mark}, {step.code}: from {step.start} to {step.end} leaves the working day."
    for pause in day.breaks:
        if step.start < pause.end and pause.start < step.end:
            yield f"{visit.mark}, {step.code}: from {step.start} to {step.end} runs into a break."


def _lag(visit: Visit, lag: VisitLag, *, steps: dict[str, PlannedStep]) -> Iterator[str]:
    if lag.before not in steps or lag.after not in steps:
        return
    before = steps[lag.before]
    passed = steps[lag.after].start - (before.end if lag.kind is LagKind.FINISH_START else before.start)
    if lag.minimum is not None and passed < lag.minimum:
        yield f"{visit.mark}: {lag.after} starts {passed} min after {lag.before}, less than {lag.minimum}."
    if lag.maximum is not None and passed > lag.maximum:
        yield f"{visit.mark}: {lag.after} starts {passed} min after {lag.before}, more than {lag.maximum}."


def _person(day: CrewDay, plan: CrewPlan, *, hand: int) -> Iterator[str]:
    """A person does one thing at a time, and has worked minutes enough to walk from one to the next."""
    lane = plan.lane(hand)
    if lane:
        first, step = lane[0]
        if _worked(day, day.start + day.set_up, end=step.start) < day.move:
            yield f"Person {hand} is at {first.visit.mark} before walking there from the truck."
    for (here, done), (there, then) in pairwise(lane):
        walk = _walk(day, here.visit, there=there.visit)
        if then.start < done.end:
            yield f"Person {hand} does {done.code} and {then.code} at the same time."
        elif _worked(day, done.end, end=then.start) < walk:
            yield f"Person {hand} has no {walk} min to walk from {here.visit.mark} to {there.visit.mark}."


def _walk(day: CrewDay, here: Visit, *, there: Visit) -> int:
    if here.house != there.house:
        return day.travel
    return 0 if (here.elevation, here.mark) == (there.elevation, there.mark) else day.move


def _worked(day: CrewDay, start: int, *, end: int) -> int:
    """Return the minutes from `start` to `end` that are no break."""
    pauses = sum(max(0, min(pause.end, end) - max(pause.start, start)) for pause in day.breaks)
    return max(0, end - start) - pauses
