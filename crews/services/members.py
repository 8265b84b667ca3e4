"""The people of a crew. Wages are the office's: a foreman adds people without seeing or setting one."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from crews.models import Crew, CrewMember
from crews.services.crews import refuse_outsider
from projects.actors import Actor
from projects.errors import Archived, BadValue
from projects.models import User
from projects.quantities.money import Money
from projects.rights import Action, require
from projects.services.writing import change, created, hold, unless_taken
from projects.texts import clean_text

HIGHEST_BURDEN = 200
HIGHEST_WAGE_CENTS = 100_000


@transaction.atomic
def add_member(*, by: Actor, crew: Crew, name: str, grade: str, user: User | None = None) -> CrewMember:
    """Return one more pair of hands of the crew, its wage still to be said by the office."""
    require(by, Action.EDIT_PLAN, crew)
    held = hold(crew)
    if held.archived:
        raise Archived(what=str(held))
    values = _clean(by, name=name, grade=grade, user=user)
    with unless_taken("crew_member_once", field="name", what="Name", value=values["name"]):
        member = CrewMember.objects.create(company=by.company, crew=held, **values)
    return created(member, by=by, action="add crew member", shown=("name", "grade"))


@transaction.atomic
def edit_member(
    *, by: Actor, member: CrewMember, version: int | None, name: str, grade: str, user: User | None = None
) -> CrewMember:
    """Return the person as changed. Raises StaleVersion where the row was saved since `version`."""
    require(by, Action.EDIT_PLAN, member)
    values = _clean(by, name=name, grade=grade, user=user)
    held = hold(member, version=version)
    with unless_taken("crew_member_once", field="name", what="Name", value=values["name"]):
        return change(held, by=by, action="edit crew member", values=values)


@transaction.atomic
def set_wage(
    *, by: Actor, member: CrewMember, wage: Money, burden_percent: int, version: int | None = None
) -> CrewMember:
    """Return the person with an hour's wage and its burden. Raises BadValue where one is out of range.

    Raises StaleVersion where the row was saved since `version`.
    """
    require(by, Action.SEE_COSTS, member)
    if not 0 < wage.cents <= HIGHEST_WAGE_CENTS:
        raise BadValue(
            problem=f"A wage of {wage.as_text} an hour can't be.",
            remedy=f"Give more than 0 and up to {Money(HIGHEST_WAGE_CENTS).as_text}.",
            value=wage.as_text,
            field="wage",
        )
    if not 0 <= burden_percent <= HIGHEST_BURDEN:
        raise BadValue(
            problem=f"A burden of {burden_percent} % can't be.",
            remedy=f"Give 0 to {HIGHEST_BURDEN} %.",
            value=burden_percent,
            field="burden_percent",
        )
    values = {"wage_cents": wage.cents, "burden_percent": burden_percent}
    return change(hold(member, version=version), by=by, action="set wage", values=values)


@transaction.atomic
def remove_member(*, by: Actor, member: CrewMember) -> CrewMember:
    """Return the person, no longer of the crew; restoring is the way back."""
    require(by, Action.EDIT_PLAN, member)
    return change(hold(member), by=by, action="remove crew member", values={"archived": True})


@transaction.atomic
def restore_member(*, by: Actor, member: CrewMember) -> CrewMember:
    """Return the person, back in the crew."""
    require(by, Action.EDIT_PLAN, member)
    return change(hold(member), by=by, action="restore crew member", values={"archived": False})


def _clean(by: Actor, *, name: str, grade: str, user: User | None) -> dict[str, Any]:
    return {
        "name": clean_text(name, field="name", what="Name", longest=120),
        "grade": clean_text(grade, field="grade", what="Grade", longest=32),
        "user": refuse_outsider(by, user, field="user"),
    }
