"""The faces of a house: named by the window schedule, walked in order, ticked when work may start."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction
from django.db.models import Max, ProtectedError

from projects.actors import Actor
from projects.errors import Archived, InUse
from projects.models import Access, Elevation, House
from projects.rights import Action, require
from projects.services.writing import change, created, hold, record, unless_taken
from projects.texts import clean_text

READINESS = (
    "framing_ready",
    "sheathing_ready",
    "roof_dried_in",
    "wrb_ready",
    "access_ready",
)


@transaction.atomic
def place_elevations(*, by: Actor, house: House, names: Sequence[str]) -> dict[str, Elevation]:
    """Return the house's elevations by the given names, making those it lacks, in the order given.

    A name that differs from an elevation's only in case means that elevation.
    """
    require(by, Action.EDIT_ELEVATIONS, house)
    held = hold(house)
    if held.archived:
        raise Archived(what=str(held))
    faces = Elevation.objects.of(by.company).filter(house=held)
    known = {face.name.casefold(): face for face in faces}
    last = faces.aggregate(last=Max("walking_order"))["last"]
    walking_order = 0 if last is None else last + 1
    placed: dict[str, Elevation] = {}
    for given in names:
        name = clean_text(given, field="elevation", what="Elevation", longest=64)
        face = known.get(name.casefold())
        if face is None:
            face = Elevation.objects.create(
                company=by.company, house=held, name=name, walking_order=walking_order
            )
            created(face, by=by, action="add elevation", shown=("name", "walking_order"))
            known[name.casefold()] = face
            walking_order += 1
        placed[given] = face
    return placed


@transaction.atomic
def edit_elevation(
    *, by: Actor, elevation: Elevation, version: int | None, name: str, access: str
) -> Elevation:
    """Return the elevation as changed. Raises StaleVersion where it was saved since `version`."""
    require(by, Action.EDIT_ELEVATIONS, elevation)
    values = {
        "name": clean_text(name, field="name", what="Elevation", longest=64),
        "access": Access(access).value,
    }
    held = hold(elevation, version=version)
    with unless_taken("elevation_name_once", field="name", what="Elevation", value=values["name"]):
        return change(held, by=by, action="edit elevation", values=values)


@transaction.atomic
def tick_readiness(*, by: Actor, elevation: Elevation, ready: Sequence[str]) -> Elevation:
    """Return the elevation with exactly the `ready` ticks of READINESS set."""
    require(by, Action.EDIT_ELEVATIONS, elevation)
    values = {tick: tick in ready for tick in READINESS}
    return change(hold(elevation), by=by, action="tick readiness", values=values)


@transaction.atomic
def walk_in_order(*, by: Actor, house: House, elevations: Sequence[Elevation]) -> None:
    """Number the elevations in the order given; those left out follow in the order they had."""
    require(by, Action.EDIT_ELEVATIONS, house, *elevations)
    hold(house)
    first = [face.pk for face in elevations if face.house_id == house.pk]
    faces = {face.pk: face for face in Elevation.objects.of(by.company).filter(house=house)}
    rest = [pk for pk in faces if pk not in first]
    for place, pk in enumerate([*first, *rest]):
        change(faces[pk], by=by, action="order elevations", values={"walking_order": place})


@transaction.atomic
def remove_elevation(*, by: Actor, elevation: Elevation) -> None:
    """Take the elevation away. Raises InUse where openings, plans or records stand on it."""
    require(by, Action.EDIT_ELEVATIONS, elevation)
    held = hold(elevation)
    record(by=by, action="remove elevation", subject=held, before={"name": held.name})
    try:
        held.delete()
    except ProtectedError as error:
        raise InUse(what=f"Elevation {held.name}", remedy="Move its openings first.") from error
