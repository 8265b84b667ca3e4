"""Creating, changing, removing and restoring one opening."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone

from openings.convert import opening_columns
from openings.models import Opening
from openings.takeoff.opening import OpeningInput
from projects.actors import Actor
from projects.errors import Archived
from projects.models import House
from projects.rights import Action, require
from projects.services import place_elevations
from projects.services.writing import change, created, hold, unless_taken

SHOWN = ("mark", "unit_width_nm", "unit_height_nm", "ro_width_nm", "ro_height_nm")


@transaction.atomic
def create_opening(*, by: Actor, house: House, opening: OpeningInput) -> Opening:
    """Return a new opening of the house. Raises Taken where the house has the mark already."""
    require(by, Action.EDIT_OPENINGS, house)
    held = hold(house)
    if held.archived:
        raise Archived(what=str(held))
    face = place_elevations(by=by, house=held, names=[opening.elevation])[opening.elevation]
    with unless_taken("opening_mark_once", field="mark", what="Mark", value=opening.mark):
        row = Opening.objects.create(
            company=by.company, house=held, elevation=face, **opening_columns(opening)
        )
    return created(row, by=by, action="add opening", shown=SHOWN)


@transaction.atomic
def edit_opening(*, by: Actor, opening: Opening, version: int | None, value: OpeningInput) -> Opening:
    """Return the opening as changed. Raises StaleVersion where it was saved since `version`."""
    require(by, Action.EDIT_OPENINGS, opening)
    house = hold(opening.house)
    if house.archived:
        raise Archived(what=str(house))
    held = hold(opening, version=version)
    face = place_elevations(by=by, house=house, names=[value.elevation])[value.elevation]
    columns = {**opening_columns(value), "elevation_id": face.pk}
    with unless_taken("opening_mark_once", field="mark", what="Mark", value=value.mark):
        return change(held, by=by, action="edit opening", values=columns)


@transaction.atomic
def remove_opening(*, by: Actor, opening: Opening) -> Opening:
    """Return the opening, out of its house; orders that were made for it keep it."""
    require(by, Action.EDIT_OPENINGS, opening)
    return change(hold(opening), by=by, action="remove opening", values={"removed_at": timezone.now()})


@transaction.atomic
def restore_opening(*, by: Actor, opening: Opening) -> Opening:
    """Return the opening, back in its house. Raises Taken where its mark was given anew."""
    require(by, Action.EDIT_OPENINGS, opening)
    with unless_taken("opening_mark_once", field="mark", what="Mark", value=opening.mark):
        return change(hold(opening), by=by, action="restore opening", values={"removed_at": None})
