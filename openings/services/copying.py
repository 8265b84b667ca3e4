"""Copying a house with its openings: builders repeat their plans."""

from __future__ import annotations

from django.db import transaction

from openings.models import Opening
from openings.selectors import live_openings
from projects.actors import Actor
from projects.models import House, Project
from projects.rights import Action, require
from projects.services import copy_house_shell
from projects.services.writing import record

_NOT_COPIED = {"id", "house", "elevation", "schedule_import", "version", "removed_at"}


@transaction.atomic
def copy_house(*, by: Actor, house: House, code: str, name: str, project: Project | None = None) -> House:
    """Return a new house with this one's elevations and openings; orders, dates and readiness stay behind."""
    require(by, Action.EDIT_PROJECTS, house)
    require(by, Action.EDIT_OPENINGS, house)
    copy, faces = copy_house_shell(by=by, house=house, code=code, name=name, project=project)
    names = [field.name for field in Opening._meta.concrete_fields if field.name not in _NOT_COPIED]
    rows = [
        Opening(
            house=copy,
            elevation=faces[opening.elevation_id],
            **{name: getattr(opening, name) for name in names},
        )
        for opening in live_openings(by.company).filter(house=house).select_related("company")
    ]
    Opening.objects.bulk_create(rows)
    record(by=by, action="copy openings", subject=copy, after={"from": house.code, "openings": len(rows)})
    return copy
