"""Writing down that an elevation's membrane is covered, so that no list asks for it any more."""

from __future__ import annotations

from datetime import date

from django.db import transaction
from django.utils import timezone

from materials.models import CoveredFace
from materials.selectors.orders import local_today
from projects.actors import Actor
from projects.errors import BadValue
from projects.models import Elevation
from projects.rights import Action, require
from projects.services.writing import hold, record


@transaction.atomic
def set_covered(*, by: Actor, elevation: Elevation, on: date | None) -> CoveredFace | None:
    """Return on which day the elevation was covered; None takes the day away.

    Raises BadValue for a day to come.
    """
    require(by, Action.EDIT_PLAN, elevation)
    if on is not None and on > local_today(by.company):
        raise BadValue(problem=f"{on.isoformat()} is still to come.", remedy="Say it on the day.")
    hold(elevation)
    rows = CoveredFace.objects.of(by.company).filter(elevation=elevation)
    before = rows.first()
    if (before.on if before else None) == on:
        return before
    after = None
    if on is None:
        rows.delete()
    else:
        values = {"company": by.company, "on": on, "at": timezone.now(), "by": by.user}
        covered = CoveredFace.objects.of(by.company)
        after, _ = covered.update_or_create(elevation=elevation, defaults=values)
    record(
        by=by,
        action="set covered",
        subject=elevation,
        before={"on": before.on} if before else None,
        after={"on": on} if on else None,
    )
    return after
