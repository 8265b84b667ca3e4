"""What a crew writes down of its work: a step is done, or was not done after all. Records are never changed.

The opening's row is locked meanwhile, so that of two who mark at once the second sees what the first did. A
tap that is sent twice counts once.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import date

from django.db import transaction

from crews.convert.work import OpeningWork, work_of
from crews.errors import OtherSteps, ReverseLap, StepGone, StepRestedOn, StepTooSoon
from crews.fieldwork.standing import Pair, missing_before, resting_on, standing
from crews.models import Crew, WorkEntry, WorkRecord
from crews.selectors.work import marks_of
from openings.convert import opening_input
from openings.models import Opening
from openings.selectors import specification_in_force
from projects.actors import Actor
from projects.errors import Archived, NotThere
from projects.rights import Action, require
from projects.services.entries import enter_once
from projects.services.writing import hold, record


@transaction.atomic
def mark_done(
    *,
    by: Actor,
    crew: Crew,
    day: date,
    opening: Opening,
    steps: Iterable[str],
    with_earlier: bool = False,
    key: str,
) -> WorkEntry:
    """Return the entry: these steps of the opening are done, on the crew's sheet of `day`.

    `with_earlier` marks what must come before them too. A step that is done already is marked beside the
    first. Raises ReverseLap or StepTooSoon where something before it is not done, StepGone where the method
    has no such step, OtherSteps for the same key with others.
    """
    require(by, Action.RECORD_WORK, crew, opening)
    wanted = list(dict.fromkeys(steps))
    held = _hold(opening)
    body = [held.pk, crew.pk, day.isoformat(), wanted, with_earlier]
    at = {"opening": held, "crew": crew, "day": day}
    entry, is_new = enter_once(WorkEntry, by=by, key=key, body=body, other=OtherSteps, **at)
    if not is_new:
        return entry
    work = work_of(opening_input(held), specification_in_force(held.house.project).specification)
    if not wanted or not work.labels.keys() >= set(wanted):
        raise StepGone(mark=held.mark)
    done = standing(marks_of(by.company, [held.pk]).get(held.pk, ()))
    broken = missing_before(wanted, done, work.order)
    if broken and not with_earlier:
        raise _too_soon(held, work, broken, set(wanted))
    marked = {*wanted, *(first for first, _ in broken)}
    ordered = [code for code in work.labels if code in marked]
    WorkRecord.objects.bulk_create(WorkRecord(company=by.company, entry=entry, step=code) for code in ordered)
    record(by=by, action="mark steps done", subject=held, after={"crew": crew.code, "steps": ordered})
    return entry


@transaction.atomic
def take_back_work(*, by: Actor, entry: WorkEntry, step: str = "") -> WorkEntry:
    """Return the entry that takes `entry` back: whole, or one `step` of it. Said twice it happens once.

    Raises StepRestedOn where something that must come after it is done, NotThere where it marks nothing.
    """
    require(by, Action.RECORD_WORK, entry)
    held = _hold(entry.opening)
    made = list(WorkRecord.objects.of(by.company).filter(entry=entry, takes_back__isnull=True))
    chosen = [row for row in made if not step or row.step == step]
    if not chosen:
        raise NotThere
    key = f"back-{entry.pk}-{step}" if step else f"back-{entry.pk}"
    at = {"opening": held, "crew": entry.crew, "day": entry.day}
    back, is_new = enter_once(
        WorkEntry, by=by, key=key, body=[held.pk, entry.pk, step], other=OtherSteps, **at
    )
    if not is_new:
        return back
    stand = standing(marks_of(by.company, [held.pk]).get(held.pk, ()))
    undone = [row for row in chosen if row.pk in stand.get(row.step, ())]
    # a step that another phone marked too stays done, and what rests on it stays in order
    gone = {row.step for row in undone if stand[row.step] == (row.pk,)}
    work = work_of(opening_input(held), specification_in_force(held.house.project).specification)
    later = resting_on(gone, stand, work.order)
    if later:
        raise StepRestedOn(mark=held.mark, later=", ".join(work.labels[code] for code in later))
    WorkRecord.objects.bulk_create(
        WorkRecord(company=by.company, entry=back, step=row.step, takes_back=row) for row in undone
    )
    told = {"crew": entry.crew.code, "steps": [row.step for row in undone]}
    record(by=by, action="take back steps", subject=held, after=told)
    return back


def _hold(opening: Opening) -> Opening:
    held = hold(opening)
    if held.removed_at is not None:
        raise StepGone(mark=held.mark)
    if held.house.archived:
        raise Archived(what=str(held.house))
    return held


def _too_soon(
    opening: Opening, work: OpeningWork, broken: Sequence[Pair], wanted: Collection[str]
) -> ReverseLap | StepTooSoon:
    """Return the refusal: of a lap turned round first, for that is a leak and not only an order."""
    direct = [pair for pair in broken if pair[1] in wanted]
    laps = [pair for pair in direct if pair in work.laps]
    first, then = (laps or direct)[0]
    kind = ReverseLap if laps else StepTooSoon
    missing = [label for code, label in work.labels.items() if code in {pair[0] for pair in broken}]
    return kind(mark=opening.mark, step=work.labels[then], first=work.labels[first], missing=missing)
