"""Sending crews to elevations: assign, take over, move, withdraw, walk in another order.

An elevation has one crew a day; whoever is first has it, and the second is told so with two ways out. The
first day on which an elevation is worked is the day by which its materials are needed.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db import transaction
from django.db.models import Max, Min

from crews.convert.words import day_told
from crews.errors import AlreadySent, Clash, Unplaced
from crews.models import Assignment, Crew
from crews.selectors.readiness import not_ready
from crews.services.planning import renew_sheet
from materials.models import NeedDate
from materials.services.needs import set_need_dates
from projects.actors import Actor
from projects.errors import Archived
from projects.models import Elevation
from projects.rights import Action, require
from projects.services.writing import change, created, hold, record

BASIS = "crew plan"
ASIDE = 30_000  # a position that nobody has, while two change places


@dataclass(frozen=True, slots=True)
class Sent:
    """An assignment, and what the foreman should know of it: warnings, no refusals."""

    assignment: Assignment
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """What an assignment was, so that it can be put back."""

    crew: Crew
    elevation: Elevation
    day: date


@transaction.atomic
def assign_crew(
    *, by: Actor, crew: Crew, elevation: Elevation, day: date, position: int | None = None
) -> Sent:
    """Return the crew's assignment to the elevation on the day: last of its day, or at `position`.

    Raises Unplaced, Archived, and Clash where another crew is on that elevation that day.
    """
    require(by, Action.EDIT_PLAN, crew, elevation)
    face, held = hold(elevation), hold(crew)
    _refuse_what_cannot_be_sent(face, held)
    there = Assignment.objects.of(by.company).filter(elevation=face, date=day).select_related("crew").first()
    if there is not None:
        _refuse_second(there, crew=held, face=face)
    row = Assignment.objects.create(
        company=by.company, crew=held, elevation=face, date=day, position=_last(by, held, day) + 1
    )
    created(row, by=by, action="assign crew", shown=("crew_id", "elevation_id", "date"))
    if position is not None:
        _insert(row, position)
        row.refresh_from_db()
    _follow_up(by, face, (held, day))
    return Sent(row, not_ready(face))


@transaction.atomic
def move_assignment(*, by: Actor, assignment: Assignment, crew: Crew, day: date) -> Sent:
    """Return the assignment with another crew, on another day, or both; last of that day.

    Raises Archived, and Clash where another assignment has the elevation on that day.
    """
    require(by, Action.EDIT_PLAN, assignment, crew)
    face = hold(assignment.elevation)
    held, target = hold(assignment), hold(crew)
    _refuse_what_cannot_be_sent(face, target)
    others = Assignment.objects.of(by.company).filter(elevation=face, date=day).exclude(pk=held.pk)
    there = others.select_related("crew").first()
    if there is not None:
        _refuse_second(there, crew=target, face=face)
    before = (held.crew, held.date)
    if before == (target, day):
        return Sent(held, not_ready(face))
    values = {"crew": target, "date": day, "position": _last(by, target, day) + 1}
    moved = change(held, by=by, action="move assignment", values=values)
    _follow_up(by, face, before, (target, day))
    return Sent(moved, not_ready(face))


@transaction.atomic
def withdraw_assignment(*, by: Actor, assignment: Assignment) -> Withdrawn:
    """Take the crew off the elevation on that day; return what it was."""
    require(by, Action.EDIT_PLAN, assignment)
    face = hold(assignment.elevation)
    held = hold(assignment)
    gone = Withdrawn(held.crew, face, held.date)
    shown = {"crew_id": held.crew_id, "elevation_id": face.pk, "date": held.date}
    record(by=by, action="withdraw crew", subject=held, before=shown)
    held.delete()
    _follow_up(by, face, (gone.crew, gone.day))
    return gone


@transaction.atomic
def walk_earlier(*, by: Actor, assignment: Assignment) -> Assignment:
    """Return the assignment, now before the one that stood before it that day; the first one stays."""
    require(by, Action.EDIT_PLAN, assignment)
    held = hold(assignment)
    of_day = Assignment.objects.of(by.company).filter(crew=held.crew, date=held.date)
    before = of_day.filter(position__lt=held.position).order_by("-position").first()
    if before is None:
        return held
    first, second = before.position, held.position
    of_day.filter(pk=before.pk).update(position=ASIDE)
    moved = change(held, by=by, action="walk earlier", values={"position": first})
    of_day.filter(pk=before.pk).update(position=second)
    renew_sheet(by=by, crew=held.crew, day=held.date)
    return moved


def _refuse_what_cannot_be_sent(face: Elevation, crew: Crew) -> None:
    if not face.is_placed:
        raise Unplaced
    for thing in (crew, face.house, face.house.project):
        if thing.archived:
            raise Archived(what=str(thing))


def _refuse_second(there: Assignment, *, crew: Crew, face: Elevation) -> None:
    told = {
        "crew": there.crew.code,
        "what": f"{face.house.code} {face.name}",
        "day": day_told(there.date),
    }
    if there.crew_id == crew.pk:
        raise AlreadySent(**told)
    raise Clash(there=there, **told)


def _last(by: Actor, crew: Crew, day: date) -> int:
    rows = Assignment.objects.of(by.company).filter(crew=crew, date=day)
    last: int | None = rows.aggregate(last=Max("position"))["last"]
    return -1 if last is None else last


def _insert(row: Assignment, position: int) -> None:
    """Put the row at `position` of its day and number the day anew; first aside, for no two share a place."""
    of_day = Assignment.objects.filter(company_id=row.company_id, crew_id=row.crew_id, date=row.date)
    order = [pk for pk in of_day.order_by("position").values_list("pk", flat=True) if pk != row.pk]
    order.insert(position, row.pk)
    for offset in (ASIDE, 0):
        for place, pk in enumerate(order):
            of_day.filter(pk=pk).update(position=offset + place)


def _follow_up(by: Actor, face: Elevation, *days: tuple[Crew, date]) -> None:
    """Set the day by which the elevation's materials are needed, and renew the sheets that exist."""
    first = Assignment.objects.of(by.company).filter(elevation=face).aggregate(first=Min("date"))["first"]
    ours = NeedDate.objects.of(by.company).filter(elevation=face, basis=BASIS)
    if first is not None or ours.exists():
        set_need_dates(by=by, elevations=[face], day=first, basis=BASIS)
    for crew, day in days:
        renew_sheet(by=by, crew=crew, day=day)
