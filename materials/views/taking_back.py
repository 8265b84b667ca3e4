"""Undo of what is set by a form: the notice's button brings what it has to know."""

from __future__ import annotations

from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from materials.models import Price
from materials.services import taking_back
from projects.access import allowed, member
from projects.models import Elevation, House
from projects.notices import say, unsealed
from projects.rights import Action
from projects.selectors import row_of


@require_POST
@allowed(Action.ISSUE_ORDERS)
def need_dates(request: HttpRequest, pk: int, token: str) -> HttpResponse:
    """Set a house's need dates as they were before."""
    by = member(request)
    house = row_of(House, by.company, pk)
    days = [
        taking_back.DaySet(row_of(Elevation, by.company, face), _day(before), basis, _day(now))
        for face, before, basis, now in unsealed(token)["days"]
    ]
    taking_back.take_back_need_dates(by=by, days=days)
    say(request, f"The days of {house.code} are as they were.")
    return redirect("need-dates", house.pk)


@require_POST
@allowed(Action.COUNT_STOCK)
def level(request: HttpRequest, token: str) -> HttpResponse:
    """Set a minimum as it was before."""
    material, before, now = unsealed(token)["level"]
    taking_back.take_back_minimum(by=member(request), material=material, before=before, now=now)
    say(request, "The minimum is as it was.")
    return redirect("stock")


@require_POST
@allowed(Action.EDIT_PRICES)
def price(request: HttpRequest, token: str) -> HttpResponse:
    """Withdraw a price, or give it its terms of before."""
    by = member(request)
    pk, before, now = unsealed(token)["price"]
    taking_back.take_back_price(by=by, price=row_of(Price, by.company, pk), before=before, now=now)
    say(request, "The price is as it was." if before else "The price is withdrawn.")
    return redirect("prices")


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
