"""A week of crews: houses down, days across, each crew on the elevation it is sent to, the weather above."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from django.core.paginator import Page
from django.db.models import Exists, OuterRef, Q, QuerySet

from crews.convert.labour import Reach, person_minutes, step_times
from crews.models import Assignment, Crew
from crews.selectors.crews import CrewShown, crews_of
from crews.selectors.readiness import missing_of
from crews.selectors.weather import DayShown, days_shown
from crews.weekplan.small_face import draw_small_face
from materials.models import NeedDate
from materials.selectors.demand import monday_of
from materials.selectors.orders import local_today
from openings.convert import COLUMNS, input_of_columns
from openings.drawing.placing import DrawnElevation, DrawnOpening
from openings.drawing.shapes import Drawing
from openings.models import Opening
from openings.selectors import live_openings, specifications_in_force
from openings.selectors.windows import accepted_openings
from openings.takeoff.compute import take_off_house
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import Specification
from projects.models import UNPLACED, Company, Elevation, House, User
from projects.selectors import live_houses, page_of

WORKING_DAYS = 5
HOUSES_A_PAGE = 25


@dataclass(frozen=True, slots=True)
class Cell:
    """An elevation on a day: who is sent there, if anybody."""

    day: date
    assignment: Assignment | None


@dataclass(frozen=True, slots=True)
class FaceWeek:
    """One elevation's row: its drawing, its work, what is missing, its days, and days in other weeks."""

    elevation: Elevation
    openings: int
    drawing: Drawing
    person_hours: Fraction
    missing: tuple[str, ...]
    cells: tuple[Cell, ...]
    elsewhere: tuple[Assignment, ...]
    needed: date | None

    @property
    def is_sent(self) -> bool:
        """Return whether any crew is sent here on any day."""
        return bool(self.elsewhere) or any(cell.assignment for cell in self.cells)

    @property
    def hours(self) -> str:
        """Return the work in hours of one person, to the half hour."""
        halves = round(self.person_hours * 2)
        return f"{halves // 2}{'½' if halves % 2 else ''} h" if halves else "under ½ h"


@dataclass(frozen=True, slots=True)
class HouseWeek:
    """One house's rows."""

    house: House
    faces: tuple[FaceWeek, ...]


@dataclass(frozen=True, slots=True)
class PlaceWeek:
    """The houses that share a weather place, under its weather."""

    place: str
    weather: tuple[DayShown, ...]
    houses: tuple[HouseWeek, ...]


@dataclass(frozen=True, slots=True)
class WeekPage:
    """All that the week's page shows."""

    monday: date
    days: tuple[date, ...]
    crews: tuple[CrewShown, ...]
    chosen: CrewShown | None
    places: tuple[PlaceWeek, ...]
    page: Page[House]

    @property
    def before(self) -> date:
        """Return the Monday before."""
        return self.monday - timedelta(days=7)

    @property
    def after(self) -> date:
        """Return the Monday after."""
        return self.monday + timedelta(days=7)

    @property
    def sent(self) -> int:
        """Return how many elevations are worked this week, on this page of it."""
        return sum(
            cell.assignment is not None
            for place in self.places
            for house in place.houses
            for face in house.faces
            for cell in face.cells
        )


def current_monday(company: Company) -> date:
    """Return the Monday of the week that is planned: this one, at its end the next."""
    today = local_today(company)
    monday = monday_of(today)
    return monday + timedelta(days=7) if today.weekday() >= WORKING_DAYS else monday


def week_page(
    company: Company,
    monday: date,
    *,
    crew: int | None = None,
    user: User | None = None,
    page: str = "1",
    only_sent: bool = False,
) -> WeekPage:
    """Return the week from `monday` on; `crew` is the one whose taps count, else that of the foreman `user`.

    Houses with nothing left to send are left out, unless a crew is sent there this week; `only_sent` leaves
    out every elevation to which none is.
    """
    crews = crews_of(company)
    houses = page_of(_houses(company, monday, only_sent=only_sent), page, size=HOUSES_A_PAGE)
    rows = _read(company, list(houses.object_list), monday)
    days = _days(monday, rows.assignments)
    faces = {house.pk: _faces(rows, house, days, only_sent=only_sent) for house in rows.houses}
    places: dict[str, list[HouseWeek]] = {}
    for house in rows.houses:
        if faces[house.pk]:
            places.setdefault(house.project.weather_place, []).append(HouseWeek(house, faces[house.pk]))
    weather = days_shown(company, [place for place in places if place], days)
    return WeekPage(
        monday=monday,
        days=days,
        crews=tuple(crews),
        chosen=_chosen(crews, crew, user),
        places=tuple(
            PlaceWeek(
                place,
                tuple(weather.get((place, day), DayShown(place, day, {})) for day in days),
                tuple(of_place),
            )
            for place, of_place in sorted(places.items())
        ),
        page=houses,
    )


def _chosen(crews: Sequence[CrewShown], crew: int | None, user: User | None) -> CrewShown | None:
    asked = [each for each in crews if each.row.pk == crew]
    own = [each for each in crews if user is not None and each.row.foreman_id == user.pk]
    return next(iter([*asked, *own, *crews]), None)


@dataclass(frozen=True, slots=True)
class _Rows:
    houses: Sequence[House]
    elevations: Sequence[Elevation]
    openings: Mapping[int, list[OpeningInput]]
    no_window: Mapping[int, list[str]]
    assignments: Sequence[Assignment]
    needed: Mapping[int, date]
    specifications: Mapping[int, Specification]
    monday: date


def _houses(company: Company, monday: date, *, only_sent: bool) -> QuerySet[House]:
    """Return the houses with something to send a crew to, and those worked this week."""
    there = Opening.objects.filter(elevation=OuterRef("pk"), removed_at__isnull=True)
    sent = Assignment.objects.filter(elevation=OuterRef("pk"))
    waiting = Elevation.objects.filter(house=OuterRef("pk")).exclude(name=UNPLACED)
    waiting = waiting.filter(Exists(there)).exclude(Exists(sent))
    this_week = Assignment.objects.filter(
        elevation__house=OuterRef("pk"), date__gte=monday, date__lt=monday + timedelta(days=7)
    )
    shown = Q(Exists(this_week)) if only_sent else Q(Exists(this_week)) | Q(Exists(waiting))
    return live_houses(company).select_related("company", "project__company").filter(shown)


def _read(company: Company, houses: Sequence[House], monday: date) -> _Rows:
    elevations = list(Elevation.objects.of(company).filter(house__in=houses).exclude(name=UNPLACED))
    openings: dict[int, list[OpeningInput]] = {}
    no_window: dict[int, list[str]] = {face.pk: [] for face in elevations}
    accepted = accepted_openings(company, elevations)
    rows = live_openings(company).filter(house__in=houses).values("id", "elevation_id", *COLUMNS)
    for row in rows:
        openings.setdefault(row["elevation_id"], []).append(input_of_columns(row))
        if row["id"] not in accepted and row["elevation_id"] in no_window:
            no_window[row["elevation_id"]].append(row["mark"])
    assignments = Assignment.objects.of(company).filter(elevation__house__in=houses)
    needed = NeedDate.objects.of(company).filter(elevation__house__in=houses)
    in_force = specifications_in_force(list({house.project for house in houses}))
    return _Rows(
        houses=houses,
        elevations=elevations,
        openings=openings,
        no_window=no_window,
        assignments=list(assignments.select_related("crew")),
        needed=dict(needed.values_list("elevation", "date")),
        specifications={house.pk: in_force[house.project_id].specification for house in houses},
        monday=monday,
    )


def _days(monday: date, assignments: Sequence[Assignment]) -> tuple[date, ...]:
    """Return the working days, and those of the weekend on which a crew is sent out."""
    week = [monday + timedelta(days=number) for number in range(7)]
    sent = {row.date for row in assignments}
    return tuple(day for day in week if day.weekday() < WORKING_DAYS or day in sent)


def _faces(rows: _Rows, house: House, days: Sequence[date], *, only_sent: bool) -> tuple[FaceWeek, ...]:
    found = (
        _face(rows, face, days)
        for face in rows.elevations
        if face.house_id == house.pk and face.pk in rows.openings
    )
    return tuple(face for face in found if not only_sent or any(cell.assignment for cell in face.cells))


def _face(rows: _Rows, face: Elevation, days: Sequence[date]) -> FaceWeek:
    values = rows.openings[face.pk]
    specification = rows.specifications[face.house_id]
    here = {row.date: row for row in rows.assignments if row.elevation_id == face.pk}
    return FaceWeek(
        elevation=face,
        openings=len(values),
        drawing=small_drawing(face, values),
        person_hours=work_of(face, values, specification) / 60,
        missing=missing_of(
            face, [value.method or specification.method for value in values], rows.no_window[face.pk]
        ),
        cells=tuple(Cell(day, here.get(day)) for day in days),
        elsewhere=tuple(row for day, row in sorted(here.items()) if day not in days),
        needed=rows.needed.get(face.pk),
    )


def work_of(face: Elevation, values: Sequence[OpeningInput], specification: Specification) -> Fraction:
    """Return the person-minutes of the openings that can be taken off, with one person's moves."""
    reach = Reach("", face.name, face.access)
    taken = take_off_house(values, specification)
    return sum(
        (person_minutes(step_times(each, specification, reach=reach, people=1)) for each in taken.openings),
        Fraction(0),
    )


def small_drawing(face: Elevation, values: Sequence[OpeningInput]) -> Drawing:
    """Return the elevation as the week shows it."""
    return draw_small_face(
        DrawnElevation(
            face.name,
            tuple(
                DrawnOpening(
                    mark=value.mark,
                    ro_width=value.ro_width,
                    ro_height=value.ro_height,
                    unit_width=value.unit_width,
                    unit_height=value.unit_height,
                    offset=value.offset,
                    sill_height=value.sill_height,
                )
                for value in values
            ),
        )
    )


def crew_minutes(crew: Crew, people: int) -> int:
    """Return the person-minutes that the crew can work at openings in a day."""
    pauses = sum(end - start for start, end in crew.breaks)
    return people * (crew.day_end_min - crew.day_start_min - pauses - crew.set_up_min - crew.clean_up_min)
