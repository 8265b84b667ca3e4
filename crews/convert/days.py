"""Rows of a crew, its day and its weather become what the day is planned from; no query here."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from fractions import Fraction

from crews.convert.labour import Reach, facts_of, method_of
from crews.cure.air import Air
from crews.cure.forecast import Forecast as HourlyForecast
from crews.cure.forecast import Quarter, QuarterOfDay, spread_quarters
from crews.dayplan.crew_day.day import ClockSpan, CrewDay, worked_spans
from crews.dayplan.crew_day.from_method import build_visit
from crews.dayplan.crew_day.visit import Visit
from crews.dayplan.crew_day.weather import DayWeather
from crews.models import Crew, Forecast
from openings.drawing.placing import DrawnElevation, DrawnOpening, place
from openings.selectors.pages import choices_of
from openings.takeoff.compute import OpeningTakeoff
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import Specification
from projects.models import Access, Elevation


def crew_day_of(crew: Crew, *, people: int, day: date) -> CrewDay:
    """Return the crew's day. Raises BadValue without people, or without a minute to work in."""
    return CrewDay(
        day=day,
        people=people,
        start=crew.day_start_min,
        end=crew.day_end_min,
        breaks=tuple(ClockSpan(start, end) for start, end in crew.breaks),
        set_up=crew.set_up_min,
        clean_up=crew.clean_up_min,
    )


def hourly_forecast(rows: Iterable[Forecast]) -> HourlyForecast | None:
    """Return the forecast of one place, None where nothing is typed in."""
    quarters = [
        Quarter(
            day=row.date,
            quarter=QuarterOfDay(row.quarter),
            air=Air(temp_c=row.temp_tenth_c / 10, rh=row.rh_percent),
            rain=row.rain,
            wind_mph=row.wind_mph,
        )
        for row in rows
    ]
    return spread_quarters(quarters) if quarters else None


def day_weather(day: CrewDay, forecast: HourlyForecast | None) -> DayWeather:
    """Return the day's weather as waits and gates read it; without a forecast gates are open."""
    spans = worked_spans(day)
    return DayWeather(day.day, ClockSpan(spans[0].start, spans[-1].end), forecast)


def visit_of(
    takeoff: OpeningTakeoff,
    specification: Specification,
    *,
    reach: Reach,
    weather: DayWeather,
) -> Visit:
    """Return the opening's work for the day of `weather`. Raises BadValue where its access has no factor."""
    method = method_of(takeoff, specification)
    return build_visit(
        facts_of(takeoff, reach),
        method=method,
        choices=choices_of(method, takeoff.opening, specification),
        weather=weather,
    )


def reach_of(face: Elevation, crew: Crew, done: Iterable[str] = ()) -> Reach:
    """Return how the crew reaches an opening of the face, of which the steps `done` are done."""
    has_lift = crew.has_lift or face.access == Access.LIFT
    return Reach(face.house.code, face.name, face.access, has_lift=has_lift, done=frozenset(done))


def along_the_wall(values: Sequence[tuple[int, OpeningInput]], name: str) -> list[tuple[int, OpeningInput]]:
    """Return openings in the order in which a crew walks them: storey by storey from below, left to right."""
    drawn = {id(value): _drawn(value) for _, value in values}
    placed = place(DrawnElevation(name, tuple(drawn[id(value)] for _, value in values)))
    by_drawn = {id(each.opening): each for each in placed.placed}
    where = {key: by_drawn[id(each)] for key, each in drawn.items()}
    return sorted(
        values, key=lambda pair: (where[id(pair[1])].level, Fraction(where[id(pair[1])].left), pair[0])
    )


def _drawn(value: OpeningInput) -> DrawnOpening:
    return DrawnOpening(
        mark=value.mark,
        ro_width=value.ro_width,
        ro_height=value.ro_height,
        unit_width=value.unit_width,
        unit_height=value.unit_height,
        offset=value.offset,
        sill_height=value.sill_height,
    )
