"""Creating, changing, copying and archiving a house."""

from __future__ import annotations

from django.db import transaction

from projects.actors import Actor
from projects.errors import Archived
from projects.models import Elevation, House, Project
from projects.rights import Action, require
from projects.services.writing import change, created, hold, unless_taken
from projects.texts import clean_code, clean_text

_FIELDS = ("code", "name", "plan_name", "pre_1978")


@transaction.atomic
def create_house(
    *, by: Actor, project: Project, code: str, name: str, plan_name: str = "", pre_1978: bool = False
) -> House:
    """Return a new house of the project, without elevations: the window schedule brings them."""
    require(by, Action.EDIT_PROJECTS, project)
    values = _clean(code, name, plan_name)
    held = hold(project)
    if held.archived:
        raise Archived(what=str(held))
    with unless_taken("house_code_once", field="code", what="House code", value=values["code"]):
        house = House.objects.create(company=by.company, project=held, pre_1978=pre_1978, **values)
    return created(house, by=by, action="create house", shown=_FIELDS)


@transaction.atomic
def edit_house(
    *,
    by: Actor,
    house: House,
    version: int | None,
    code: str,
    name: str,
    plan_name: str = "",
    pre_1978: bool = False,
) -> House:
    """Return the house as changed. Raises StaleVersion where it was saved since `version`."""
    require(by, Action.EDIT_PROJECTS, house)
    values = _clean(code, name, plan_name)
    held = hold(house, version=version)
    if held.archived:
        raise Archived(what=str(held))
    with unless_taken("house_code_once", field="code", what="House code", value=values["code"]):
        return change(held, by=by, action="edit house", values={**values, "pre_1978": pre_1978})


@transaction.atomic
def copy_house_shell(
    *, by: Actor, house: House, code: str, name: str, project: Project | None = None
) -> tuple[House, dict[int, Elevation]]:
    """Return a new house like this one, and its elevations by the primary key of the one they repeat.

    Faces, walking order and access are copied; nothing is ready yet, so no tick is. The openings follow by
    `openings.services.copy_house`, which calls this.
    """
    target = project or house.project
    require(by, Action.EDIT_PROJECTS, house, target)
    copy = create_house(
        by=by, project=target, code=code, name=name, plan_name=house.plan_name, pre_1978=house.pre_1978
    )
    copies = {
        face.pk: Elevation.objects.create(
            company=by.company,
            house=copy,
            name=face.name,
            walking_order=face.walking_order,
            access=face.access,
        )
        for face in Elevation.objects.of(by.company).filter(house=house)
    }
    return copy, copies


@transaction.atomic
def archive_house(*, by: Actor, house: House) -> House:
    """Return the house, out of every list but the archive. Its orders and records stay."""
    require(by, Action.EDIT_PROJECTS, house)
    return change(hold(house), by=by, action="archive house", values={"archived": True})


@transaction.atomic
def restore_house(*, by: Actor, house: House) -> House:
    """Return the house, back in the lists."""
    require(by, Action.EDIT_PROJECTS, house)
    return change(hold(house), by=by, action="restore house", values={"archived": False})


def _clean(code: str, name: str, plan_name: str) -> dict[str, str]:
    return {
        "code": clean_code(code, field="code", what="House code"),
        "name": clean_text(name, field="name", what="House name", longest=120),
        "plan_name": clean_text(plan_name, field="plan_name", what="Plan", longest=120, required=False),
    }
