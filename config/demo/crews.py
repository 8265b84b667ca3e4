"""The demo's crews, their wages, the weather of two weeks, and where the crews are sent."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, time, timedelta
from typing import Any

from config.demo.people import Cast
from crews import services
from crews.models import Crew
from projects.models import House
from projects.quantities.money import Money
from projects.selectors import elevations_of


def set_up(cast: Cast, told: Mapping[str, Any]) -> dict[str, Crew]:
    """Return the crews of `told` (`company.toml`) by code, with their people and wages; rents are set."""
    for row in told["equipment"]:
        services.set_rental(
            by=cast.owner,
            access=row["name"],
            per_day=Money.of(row["rent_per_day"], cast.company.currency),
            source=row["source"],
            grade=row["grade"],
        )
    return {row["code"]: _crew(cast, row, told["day"], told["wages"]) for row in told["crews"]}


def tell_weather(cast: Cast, quarters: Iterable[Mapping[str, str]], *, monday: date) -> int:
    """Set the forecast from its rows (`forecast.csv`); return how many days it covers at how many places."""
    days: dict[tuple[str, int], dict[str, services.QuarterEntry]] = {}
    for row in quarters:
        days.setdefault((row["place"], int(row["day"])), {})[row["quarter"]] = services.QuarterEntry(
            temp_tenth_c=int(row["temp_c"]) * 10,
            rh_percent=int(row["rh"]),
            rain=row["rain"] == "yes",
            wind_mph=int(row["wind_mph"]),
        )
    for (place, day), entries in days.items():
        services.set_forecast(
            by=cast.foreman, place=place, day=monday + timedelta(days=day), quarters=entries
        )
    return len(days)


def send(
    cast: Cast,
    told: Mapping[str, Any],
    *,
    crews: Mapping[str, Crew],
    houses: Mapping[str, House],
    monday: date,
) -> int:
    """Send the crews where `told` (`assignments.toml`) says; return how many elevations that is."""
    faces = {code: {face.name: face for face in elevations_of(house)} for code, house in houses.items()}
    sent = 0
    for row in told["assignments"]:
        for name in row["elevations"]:
            services.assign_crew(
                by=cast.foreman,
                crew=crews[row["crew"]],
                elevation=faces[row["house"]][name],
                day=monday + timedelta(days=row["day"]),
            )
            sent += 1
    return sent


def ask_for_sheets(cast: Cast, crews: Iterable[Crew], *, monday: date) -> None:
    """Ask for the first day's sheets, so that a worker has them made before somebody looks."""
    for crew in crews:
        services.request_sheet(by=cast.foreman, crew=crew, day=monday)


def _crew(cast: Cast, row: Mapping[str, Any], day: Mapping[str, Any], wages: Mapping[str, Any]) -> Crew:
    crew = services.create_crew(
        by=cast.owner,
        code=row["code"],
        name=row["name"],
        day_start_min=_minutes(day["start"]),
        day_end_min=_minutes(day["end"]),
        breaks=[(_minutes(start), _minutes(end)) for start, end in day["breaks"]],
        set_up_min=day["set_up_min"] + day["truck_min"],
        clean_up_min=day["clean_up_min"],
        has_lift="lift" in row["equipment"],
        foreman=cast.by_email[row["foreman"]].user,
    )
    for told in row["members"]:
        person = cast.by_email[told["email"]].user
        member = services.add_member(
            by=cast.owner, crew=crew, name=person.name, grade=told["grade"], user=person
        )
        services.set_wage(
            by=cast.owner,
            member=member,
            wage=Money.of(wages[told["grade"]], cast.company.currency),
            burden_percent=wages["burden_percent"],
        )
    return crew


def _minutes(clock: str) -> int:
    told = time.fromisoformat(clock)
    return told.hour * 60 + told.minute
