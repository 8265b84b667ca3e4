"""By when elevations need their materials: as the builder wishes, or as the crews are planned."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from django.db import transaction

from materials.models import NeedDate
from materials.selectors.needs import SET_NEED_DATE
from projects.actors import Actor
from projects.models import Elevation, House
from projects.rights import Action, may, require
from projects.services.writing import record, refuse_stale


@transaction.atomic
def set_days_of_house(
    *, by: Actor, house: House, version: int | None, days: Mapping[Elevation, date | None]
) -> None:
    """Set the days on which a house's elevations need their materials, as the builder wishes.

    Raises StaleVersion where one of these days was set since `version`.
    """
    require(by, Action.ISSUE_ORDERS, house, *days)
    _hold(by, list(days))
    what = f"the days of {house.code}"
    refuse_stale(list(days), by=by, action=SET_NEED_DATE, version=version, what=what)
    for elevation, day in days.items():
        set_need_dates(by=by, elevations=[elevation], day=day)


@transaction.atomic
def set_need_dates(
    *, by: Actor, elevations: Sequence[Elevation], day: date | None, basis: str = "builder"
) -> None:
    """Set the day on which each elevation needs its materials; None takes the day away.

    The office sets the builder's wish, whoever plans crews sets the crew plan's day.
    """
    right = Action.EDIT_PLAN if basis == "crew plan" or may(by, Action.EDIT_PLAN) else Action.ISSUE_ORDERS
    require(by, right, *elevations)
    _hold(by, elevations)
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
        record(by=by, action=SET_NEED_DATE, subject=elevation, before=shown, after=after)


def _hold(by: Actor, elevations: Sequence[Elevation]) -> None:
    """Lock the elevations, so that of two people who set a day the second sees what the first did."""
    rows = Elevation.objects.of(by.company).filter(pk__in=[row.pk for row in elevations]).order_by("pk")
    list(rows.select_for_update().values_list("pk"))
