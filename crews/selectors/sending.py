"""Where else an elevation's crew could go: crews down, the week's days across."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from crews.models import Assignment
from crews.selectors.crews import CrewShown, crews_of
from crews.selectors.readiness import missing_of
from crews.selectors.weather import DayShown, days_shown
from crews.selectors.week import WORKING_DAYS, crew_minutes, small_drawing, work_of
from openings.convert import COLUMNS, input_of_columns
from openings.drawing.shapes import Drawing
from openings.selectors import live_openings, specification_in_force
from openings.selectors.windows import accepted_openings
from projects.models import Company, Elevation
from projects.selectors import row_of


@dataclass(frozen=True, slots=True)
class Choice:
    """A crew on a day: whether it is here already, and where else it is that day."""

    crew: CrewShown
    day: date
    here: Assignment | None
    elsewhere: tuple[Assignment, ...]


@dataclass(frozen=True, slots=True)
class CrewRow:
    """One crew's choices of the week, and how much of its day the elevation takes."""

    crew: CrewShown
    choices: tuple[Choice, ...]
    share: Fraction | None

    @property
    def told(self) -> str:
        """Return how much of the crew's day the elevation takes, waits and weather apart."""
        if self.share is None:
            return "nobody in it yet"
        tenths = -(-self.share * 10 // 1)
        return f"about {tenths // 10}.{tenths % 10} of its day" if tenths > 0 else "hardly any of its day"


@dataclass(frozen=True, slots=True)
class SendingPage:
    """All that the page of one elevation's crews shows."""

    elevation: Elevation
    drawing: Drawing | None
    openings: int
    missing: tuple[str, ...]
    monday: date
    days: tuple[date, ...]
    weather: tuple[DayShown, ...]
    rows: tuple[CrewRow, ...]
    sent: tuple[Assignment, ...]

    @property
    def before(self) -> date:
        """Return the Monday before."""
        return self.monday - timedelta(days=7)

    @property
    def after(self) -> date:
        """Return the Monday after."""
        return self.monday + timedelta(days=7)


def sending_page(company: Company, pk: int, monday: date) -> SendingPage:
    """Return which crews could be sent to the elevation on which day of the week. Raises NotThere."""
    face = row_of(Elevation, company, pk, "house__project__company", "house__company")
    specification = specification_in_force(face.house.project).specification
    rows = list(live_openings(company).filter(elevation=face).order_by("row", "id").values("id", *COLUMNS))
    values = [input_of_columns(row) for row in rows]
    accepted = accepted_openings(company, [face])
    days = tuple(monday + timedelta(days=number) for number in range(WORKING_DAYS))
    place = face.house.project.weather_place
    weather = days_shown(company, [place], days) if place else {}
    work = work_of(face, values, specification)
    return SendingPage(
        elevation=face,
        drawing=small_drawing(face, values) if values else None,
        openings=len(values),
        missing=missing_of(
            face,
            [value.method or specification.method for value in values],
            [row["mark"] for row in rows if row["id"] not in accepted],
        ),
        monday=monday,
        days=days,
        weather=tuple(weather.get((place, day), DayShown(place, day, {})) for day in days),
        rows=_rows(company, face, days, work),
        sent=tuple(
            Assignment.objects.of(company).filter(elevation=face).select_related("crew").order_by("date")
        ),
    )


def assignment_of(company: Company, pk: int) -> Assignment:
    """Return an assignment with its crew, elevation and house. Raises NotThere."""
    return row_of(Assignment, company, pk, "crew", "elevation__house__project", "elevation__house__company")


def _rows(company: Company, face: Elevation, days: Sequence[date], work: Fraction) -> tuple[CrewRow, ...]:
    busy = Assignment.objects.of(company).filter(date__in=days).select_related("elevation__house", "crew")
    there: dict[tuple[int, date], list[Assignment]] = {}
    for row in busy.order_by("position"):
        there.setdefault((row.crew_id, row.date), []).append(row)
    found = []
    for crew in crews_of(company):
        choices = tuple(_choice(crew, day, there.get((crew.row.pk, day), []), face) for day in days)
        worked = crew_minutes(crew.row, len(crew.members))
        found.append(CrewRow(crew, choices, work / worked if worked > 0 else None))
    return tuple(found)


def _choice(crew: CrewShown, day: date, rows: Sequence[Assignment], face: Elevation) -> Choice:
    here = next((row for row in rows if row.elevation_id == face.pk), None)
    return Choice(crew, day, here, tuple(row for row in rows if row is not here))
