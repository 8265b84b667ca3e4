"""Creating, changing and archiving a builder's project."""

from __future__ import annotations

from django.db import transaction

from projects.actors import Actor
from projects.errors import Archived
from projects.models import Project
from projects.rights import Action, require
from projects.services.writing import change, created, hold, unless_taken
from projects.texts import clean_code, clean_text

_FIELDS = ("code", "name", "builder", "delivery_place", "weather_place")


@transaction.atomic
def create_project(
    *, by: Actor, code: str, name: str, builder: str, delivery_place: str = "", weather_place: str = ""
) -> Project:
    """Return a new project. Raises Taken where the company has the code already."""
    require(by, Action.EDIT_PROJECTS)
    values = _clean(code, name, builder, delivery_place, weather_place)
    with unless_taken("project_code_once", field="code", what="Project code", value=values["code"]):
        project = Project.objects.create(company=by.company, **values)
    return created(project, by=by, action="create project", shown=_FIELDS)


@transaction.atomic
def edit_project(
    *,
    by: Actor,
    project: Project,
    version: int | None,
    code: str,
    name: str,
    builder: str,
    delivery_place: str = "",
    weather_place: str = "",
) -> Project:
    """Return the project as changed. Raises StaleVersion where it was saved since `version`."""
    require(by, Action.EDIT_PROJECTS, project)
    values = _clean(code, name, builder, delivery_place, weather_place)
    held = hold(project, version=version)
    if held.archived:
        raise Archived(what=str(held))
    with unless_taken("project_code_once", field="code", what="Project code", value=values["code"]):
        return change(held, by=by, action="edit project", values=values)


@transaction.atomic
def archive_project(*, by: Actor, project: Project) -> Project:
    """Return the project, out of every list but the archive. Its orders and records stay."""
    require(by, Action.EDIT_PROJECTS, project)
    return change(hold(project), by=by, action="archive project", values={"archived": True})


@transaction.atomic
def restore_project(*, by: Actor, project: Project) -> Project:
    """Return the project, back in the lists."""
    require(by, Action.EDIT_PROJECTS, project)
    return change(hold(project), by=by, action="restore project", values={"archived": False})


def _clean(code: str, name: str, builder: str, delivery_place: str, weather_place: str) -> dict[str, str]:
    return {
        "code": clean_code(code, field="code", what="Project code"),
        "name": clean_text(name, field="name", what="Project name", longest=120),
        "builder": clean_text(builder, field="builder", what="Builder", longest=120),
        "delivery_place": clean_text(
            delivery_place, field="delivery_place", what="Delivery place", longest=200, required=False
        ),
        "weather_place": clean_text(
            weather_place, field="weather_place", what="Weather place", longest=120, required=False
        ),
    }
