"""The weather that the foreman types in: a week by place, and one day by quarters."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from crews import services
from crews.convert.words import day_told
from crews.forms.forecasts import ForecastForm, entry_of
from crews.selectors.weather import days_shown, places_of, weather_version, week_from
from materials.selectors.orders import local_today
from projects.access import allowed, member
from projects.errors import NotThere
from projects.notices import say
from projects.rights import Action
from projects.views.editing import Editing

DAYS_SHOWN = 10
ONE_DAY = timedelta(days=1)


@require_safe
@allowed(Action.SEE_PLAN)
def weather(request: HttpRequest) -> HttpResponse:
    """Show each place's weather from today on, and which days still lack it."""
    company = member(request).company
    days = week_from(local_today(company), DAYS_SHOWN)
    places = places_of(company)
    found = days_shown(company, places, days)
    context = {"weather_places": [(place, [found[place, day] for day in days]) for place in places]}
    return render(request, "crews/weather.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PLAN)
def forecast(request: HttpRequest, day: date) -> HttpResponse:
    """Type in one day's weather at a place, quarter by quarter."""
    by = member(request)
    places = places_of(by.company)
    asked = request.GET.get("place", "")
    if asked and asked not in places:
        raise NotThere
    place = asked or (places[0] if places else "")
    found = days_shown(by.company, [place], [day, day - ONE_DAY])

    def save(form: ForecastForm) -> HttpResponse:
        services.set_forecast(by=by, place=place, day=day, quarters=form.quarters, version=form.seen_version)
        say(request, f"The weather of {place} on {day_told(day)} is saved.")
        if "next" in request.POST:
            following = reverse("forecast", args=[day + ONE_DAY])
            return redirect(f"{following}?{urlencode({'place': place})}")
        return redirect("weather")

    def now(_: Any) -> dict[str, Any]:
        shown = days_shown(by.company, [place], [day])[place, day]
        return {**entry_of(shown.quarters), "version": weather_version(by.company, shown)}

    known = found[place, day].quarters or found[place, day - ONE_DAY].quarters
    initial = {**entry_of(known), "version": weather_version(by.company, found[place, day])}
    context: dict[str, Any] = {
        "place": place,
        "day": day,
        "before": day - ONE_DAY,
        "after": day + ONE_DAY,
        "is_copied": not found[place, day].is_known and bool(known),
    }
    return Editing(request, "crews/forecast.html", ForecastForm, save, initial, context, entry=now).answer()
