"""Setting up crews, changing them, putting them away and back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from django.db import transaction

from crews.dayplan.crew_day.day import ClockSpan, CrewDay
from crews.models import Crew
from crews.models.crew import standing_par_list
from projects.actors import Actor
from projects.errors import Archived, BadValue
from projects.models import Membership, User
from projects.rights import Action, require
from projects.services.writing import change, created, hold, unless_taken
from projects.texts import clean_code, clean_text

ANY_DAY = date(2001, 1, 1)
LONGEST_LIST = 40
_SHOWN = ("code", "name", "day_start_min", "day_end_min", "breaks", "set_up_min", "clean_up_min", "has_lift")
Breaks = Sequence[tuple[int, int]]


@transaction.atomic
def create_crew(*, by: Actor, code: str, name: str, **day: Any) -> Crew:
    """Return a new crew without people. `day` takes the keywords of `edit_crew`; what is left out is usual.

    Raises BadValue where no minute of its day is left for work, Taken where the code is in use.
    """
    require(by, Action.EDIT_PLAN)
    values = _clean(by, code=code, name=name, **day)
    with unless_taken("crew_code_once", field="code", what="Crew code", value=values["code"]):
        crew = Crew.objects.create(company=by.company, **values)
    return created(crew, by=by, action="create crew", shown=_SHOWN)


@transaction.atomic
def edit_crew(*, by: Actor, crew: Crew, version: int | None, code: str, name: str, **day: Any) -> Crew:
    """Return the crew as changed. Raises StaleVersion where it was saved since `version`.

    `day` takes day_start_min, day_end_min, breaks, set_up_min, clean_up_min, has_lift, par_list and foreman.
    """
    require(by, Action.EDIT_PLAN, crew)
    held = hold(crew, version=version)
    if held.archived:
        raise Archived(what=str(held))
    values = _clean(by, code=code, name=name, **day)
    with unless_taken("crew_code_once", field="code", what="Crew code", value=values["code"]):
        return change(held, by=by, action="edit crew", values=values)


@transaction.atomic
def archive_crew(*, by: Actor, crew: Crew) -> Crew:
    """Return the crew, out of the week. Its assignments and sheets stay."""
    require(by, Action.EDIT_PLAN, crew)
    return change(hold(crew), by=by, action="archive crew", values={"archived": True})


@transaction.atomic
def restore_crew(*, by: Actor, crew: Crew) -> Crew:
    """Return the crew, back in the week."""
    require(by, Action.EDIT_PLAN, crew)
    return change(hold(crew), by=by, action="restore crew", values={"archived": False})


def _clean(
    by: Actor,
    *,
    code: str,
    name: str,
    day_start_min: int = 420,
    day_end_min: int = 930,
    breaks: Breaks = ((720, 750),),
    set_up_min: int = 75,
    clean_up_min: int = 30,
    has_lift: bool = False,
    par_list: Sequence[str] | None = None,
    foreman: User | None = None,
) -> dict[str, Any]:
    _refuse_impossible_day(
        start=day_start_min, end=day_end_min, breaks=breaks, set_up=set_up_min, clean_up=clean_up_min
    )
    return {
        "code": clean_code(code, field="code", what="Crew code"),
        "name": clean_text(name, field="name", what="Crew name", longest=120),
        "day_start_min": day_start_min,
        "day_end_min": day_end_min,
        "breaks": [list(pair) for pair in sorted(breaks)],
        "set_up_min": set_up_min,
        "clean_up_min": clean_up_min,
        "has_lift": has_lift,
        "par_list": _par_list(par_list),
        "foreman": refuse_outsider(by, foreman, field="foreman"),
    }


def _refuse_impossible_day(*, start: int, end: int, breaks: Breaks, set_up: int, clean_up: int) -> None:
    """Raise BadValue where a break is no span, breaks overlap, or no minute is left for work."""
    try:
        CrewDay(
            day=ANY_DAY,
            people=1,
            start=start,
            end=end,
            breaks=tuple(ClockSpan(*pair) for pair in breaks),
            set_up=set_up,
            clean_up=clean_up,
        )
    except BadValue as error:
        raise BadValue(
            problem=error.problem, remedy=error.remedy, value=error.value, field="day_end"
        ) from error


def _par_list(lines: Sequence[str] | None) -> list[str]:
    if lines is None:
        return standing_par_list()
    clean = [
        clean_text(line, field="par_list", what="A line of the truck's list", longest=80) for line in lines
    ]
    if len(clean) > LONGEST_LIST:
        raise BadValue(
            problem=f"The truck's list has {len(clean)} lines.",
            remedy=f"Keep it to {LONGEST_LIST}.",
            field="par_list",
        )
    return clean


def refuse_outsider(by: Actor, user: User | None, *, field: str) -> User | None:
    """Return `user`. Raises BadValue where the person is no active member of the actor's company."""
    if user is None or Membership.objects.of(by.company).filter(user=user, active=True).exists():
        return user
    raise BadValue(
        problem="This person does not sign in for the company.",
        remedy="Choose somebody from the list, or add the person first.",
        field=field,
    )
