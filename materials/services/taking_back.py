"""The way back from a day, a minimum or a price set wrongly: as it was, if nobody changed it since."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import transaction

from materials.errors import ChangedSince
from materials.models import MinimumLevel, NeedDate, Price
from materials.selectors.prices import terms_of
from materials.services.needs import set_need_dates
from materials.services.stock import set_minimum
from projects.actors import Actor
from projects.models import Elevation
from projects.rights import Action, require
from projects.services.writing import change, hold, hold_company, record


@dataclass(frozen=True, slots=True)
class DaySet:
    """An elevation's need date as it was set: the day and basis `before`, and the day `now`."""

    elevation: Elevation
    before: date | None
    basis: str
    now: date | None


@transaction.atomic
def take_back_need_dates(*, by: Actor, days: Sequence[DaySet]) -> None:
    """Set each elevation's need date as it was before. Raises ChangedSince, and then none of them is."""
    require(by, Action.ISSUE_ORDERS, *(each.elevation for each in days))
    hold_company(by)
    rows = NeedDate.objects.of(by.company).filter(elevation__in=[each.elevation.pk for each in days])
    there = dict(rows.values_list("elevation_id", "date"))
    if any(there.get(each.elevation.pk) != each.now for each in days):
        raise ChangedSince
    for each in days:
        set_need_dates(by=by, elevations=[each.elevation], day=each.before, basis=each.basis)


@transaction.atomic
def take_back_minimum(*, by: Actor, material: str, before: int, now: int) -> None:
    """Set how much of a material must stay as it was before, 0 for no minimum. Raises ChangedSince."""
    require(by, Action.COUNT_STOCK)
    hold_company(by)
    row = MinimumLevel.objects.of(by.company).filter(material=material).first()
    if (row.quantity if row else 0) != now:
        raise ChangedSince
    set_minimum(by=by, material=material, quantity=before)


@transaction.atomic
def take_back_price(
    *, by: Actor, price: Price, before: Mapping[str, Any] | None, now: Mapping[str, Any]
) -> None:
    """Give a price its terms of before, or withdraw it where there was none of that day.

    Orders keep the prices that they were made with. Raises ChangedSince.
    """
    require(by, Action.EDIT_PRICES, price)
    held = hold(price)
    if terms_of(held) != now:
        raise ChangedSince
    if before is not None:
        change(held, by=by, action="correct price", values=before)
        return
    shown = {"material": held.material, "pack": held.pack, "valid_from": held.valid_from, **now}
    record(by=by, action="withdraw price", subject=held, before=shown)
    held.delete()
