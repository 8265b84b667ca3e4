"""The weather of a day at a place, typed in by quarters: all four or nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from crews.models import Forecast
from crews.selectors.days import crews_at
from crews.selectors.weather import SET_FORECAST
from crews.services.planning import renew_sheet
from projects.actors import Actor
from projects.errors import BadValue
from projects.rights import Action, require
from projects.services.writing import hold_company, record, refuse_stale
from projects.texts import clean_text

COLDEST_TENTH_C, HOTTEST_TENTH_C = -600, 600
WINDIEST_MPH = 150
QUARTERS: tuple[str, ...] = tuple(Forecast.Quarter.values)


@dataclass(frozen=True, slots=True)
class QuarterEntry:
    """The weather of six hours: temperature in tenths of a degree Celsius, humidity, rain, wind."""

    temp_tenth_c: int
    rh_percent: int
    rain: bool = False
    wind_mph: int = 0


@transaction.atomic
def set_forecast(
    *,
    by: Actor,
    place: str,
    day: date,
    quarters: Mapping[str, QuarterEntry],
    version: int | None = None,
) -> tuple[Forecast, ...]:
    """Return the day's four quarters at the place, new or as changed; sheets of that day are renewed.

    Raises BadValue, and writes nothing, where a quarter is missing or a value can't be; StaleVersion where
    the day's weather was set since `version`.
    """
    require(by, Action.EDIT_PLAN)
    hold_company(by)
    named = clean_text(place, field="place", what="Weather place", longest=120)
    for quarter in QUARTERS:
        _refuse_impossible(quarter, quarters.get(quarter))
    there = list(Forecast.objects.of(by.company).filter(place=named, date=day))
    refuse_stale(there, by=by, action=SET_FORECAST, version=version, what=f"the weather of {named}")
    rows = tuple(_set(by, named, day, quarter, quarters[quarter]) for quarter in QUARTERS)
    for crew in crews_at(by.company, named, day):
        renew_sheet(by=by, crew=crew, day=day)
    return rows


def _set(by: Actor, place: str, day: date, quarter: str, entry: QuarterEntry) -> Forecast:
    values = {
        "temp_tenth_c": entry.temp_tenth_c,
        "rh_percent": entry.rh_percent,
        "rain": entry.rain,
        "wind_mph": entry.wind_mph,
    }
    same = Forecast.objects.of(by.company).filter(place=place, date=day, quarter=quarter)
    there = same.select_for_update().first()
    before = {name: getattr(there, name) for name in values} if there else None
    if there and before == values:
        return there
    row, _ = Forecast.objects.update_or_create(
        company=by.company, place=place, date=day, quarter=quarter, defaults=values
    )
    record(by=by, action=SET_FORECAST, subject=row, before=before, after={"place": place, **values})
    return row


def _refuse_impossible(quarter: str, entry: QuarterEntry | None) -> None:
    if entry is None:
        raise BadValue(
            problem=f"The {quarter} has no weather.",
            remedy="Fill in all four quarters of the day.",
            field=f"{quarter}_temp",
        )
    if not COLDEST_TENTH_C <= entry.temp_tenth_c <= HOTTEST_TENTH_C:
        raise BadValue(
            problem=f"The {quarter}'s temperature can't be.",
            remedy="Give -76 to 140 °F, which is -60 to 60 °C.",
            value=entry.temp_tenth_c / 10,
            field=f"{quarter}_temp",
        )
    if not 1 <= entry.rh_percent <= 100:
        raise BadValue(
            problem=f"The {quarter}'s humidity of {entry.rh_percent} % can't be.",
            remedy="Give 1 to 100 %.",
            value=entry.rh_percent,
            field=f"{quarter}_rh",
        )
    if not 0 <= entry.wind_mph <= WINDIEST_MPH:
        raise BadValue(
            problem=f"The {quarter}'s wind of {entry.wind_mph} mph can't be.",
            remedy=f"Give 0 to {WINDIEST_MPH} mph.",
            value=entry.wind_mph,
            field=f"{quarter}_wind",
        )
