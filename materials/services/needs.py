"""By when elevations need their materials: as the builder wishes, or as the crews are planned."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from django.db import transaction

from materials.models import NeedDate
from projects.actors import Actor
from projects.models import Elevation
from projects.rights import Action, may, require
from projects.services.writing import record


@transaction.atomic
def set_need_dates(
    *, by: Actor, elevations: Sequence[Elevation], day: date | None, basis: str = "builder"
) -> None:
    """Set the day on which each elevation needs its materials; None takes the day away.

    The office sets the builder's wish, whoever plans crews sets the crew plan's day.
    """
    right = Action.EDIT_PLAN if basis == "crew plan" or may(by, Action.EDIT_PLAN) else Action.ISSUE_ORDERS
    require(by, right, *elevations)
    for elevation in sorted(elevations, key=lambda row: row.pk):
        rows = NeedDate.objects.of(by.company).filter(elevation=elevation)
        before = rows.select_for_update().first()
        shown = {"date": before.date.isoformat(), "basis": before.basis} if before else None
        after = {"date": day.isoformat(), "basis": basis} if day else None
        if shown == after:
            continue
        if day is None:
            rows.delete()
        else:
            NeedDate.objects.update_or_create(
                elevation=elevation, defaults={"company": by.company, "date": day, "basis": basis}
            )
        record(by=by, action="set need date", subject=elevation, before=shown, after=after)
