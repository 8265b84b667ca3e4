"""What a crew's day is made from, and the plans that were made of it."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from typing import Any

from django.db.models import Q

from crews.convert.days import along_the_wall
from crews.models import Assignment, Crew, CrewMember, DayPlan, Forecast
from materials.selectors.compatibility import ProjectPairs, pairs_of
from materials.selectors.instructions import SheetShown, sheets_in_force
from openings.convert import COLUMNS, input_of_columns
from openings.selectors import InForce, live_openings, specifications_in_force
from openings.selectors.windows import accepted_openings
from openings.takeoff.compute import RULES_VERSION
from openings.takeoff.opening import OpeningInput
from projects.models import Company, Elevation
from projects.services import READINESS

PLAN_VERSION = "5"
"""Changes whenever the same inputs would bring another sheet."""
# The day before says whether the wall is still wet; two days after, how a bead goes on curing.
DAYS_BEFORE, DAYS_AFTER = 1, 2
SET = "set"  # the step that puts the window into the wall


@dataclass(frozen=True, slots=True)
class DayFace:
    """An elevation of the day with its openings along the wall.

    `planned` counts those that an earlier sheet finishes; `begun` are the steps that one does of an opening.
    `no_window` are those that wait for an accepted window.
    """

    elevation: Elevation
    openings: tuple[tuple[int, OpeningInput], ...]
    in_force: InForce
    planned: int
    begun: Mapping[int, tuple[str, ...]]
    no_window: frozenset[int]


@dataclass(frozen=True, slots=True)
class DayInputs:
    """All that a sheet is made from; `input_hash` changes with any of it. `sent` is in walking order.

    `pairs` is what each project uses together, `sheets` the makers' sheets in force by material.
    """

    crew: Crew
    day: date
    members: tuple[CrewMember, ...]
    sent: tuple[Assignment, ...]
    faces: tuple[DayFace, ...]
    forecasts: Mapping[str, tuple[Forecast, ...]]
    pairs: Mapping[int, ProjectPairs]
    sheets: Mapping[str, SheetShown]
    input_hash: str


def day_inputs(company: Company, crew: Crew, day: date) -> DayInputs:
    """Return what the crew's day is made from. At most thirteen queries."""
    members = tuple(CrewMember.objects.of(company).filter(crew=crew, archived=False))
    rows = Assignment.objects.of(company).filter(crew=crew, date=day).order_by("position", "pk")
    sent = tuple(rows.select_related("elevation__house__project__company", "elevation__house__company"))
    elevations = [row.elevation for row in sent]
    faces = _faces(company, elevations, day)
    places = sorted({face.house.project.weather_place for face in elevations} - {""})
    forecasts = _forecasts(company, places, day)
    pairs, sheets = _fitting(company, elevations, day)
    input_hash = _hash(crew, day, members, faces, forecasts, fitting=_fitting_read(pairs, sheets))
    return DayInputs(crew, day, members, sent, faces, forecasts, pairs, sheets, input_hash)


def latest_plan(company: Company, crew: Crew, day: date) -> DayPlan | None:
    """Return the newest plan of the crew's day, None where none was made."""
    return DayPlan.objects.of(company).filter(crew=crew, date=day).order_by("-pk").first()


def plan_for(company: Company, crew: Crew, day: date, input_hash: str) -> DayPlan | None:
    """Return the plan that was made from these inputs."""
    return DayPlan.objects.of(company).filter(crew=crew, date=day, input_hash=input_hash).first()


def crew_days(company: Company, first: date, last: date) -> list[tuple[Crew, date]]:
    """Return each crew and day, from `first` to `last`, on which the crew is sent out."""
    rows = Assignment.objects.of(company).filter(date__gte=first, date__lte=last, crew__archived=False)
    found = {(row.crew_id, row.date): row.crew for row in rows.select_related("crew__company")}
    return [
        (crew, day) for (_, day), crew in sorted(found.items(), key=lambda pair: (pair[0][1], pair[0][0]))
    ]


def crews_at(company: Company, place: str, day: date) -> list[Crew]:
    """Return the crews that are sent to a house under this weather on the day."""
    there = Assignment.objects.of(company).filter(date=day, elevation__house__project__weather_place=place)
    return list(Crew.objects.of(company).filter(pk__in=there.values("crew")).select_related("company"))


def crew_days_from(company: Company, since: date) -> tuple[tuple[Assignment, ...], ...]:
    """Return what each crew is sent to on each day from `since` on, in walking order, by day and crew."""
    rows = Assignment.objects.of(company).filter(date__gte=since, crew__archived=False)
    ordered = rows.select_related("crew", "elevation__house__project").order_by(
        "date", "crew__code", "position"
    )
    return tuple(tuple(sent) for _, sent in groupby(ordered, key=lambda row: (row.date, row.crew_id)))


def next_day_of(company: Company, crew: Crew, today: date) -> date | None:
    """Return the crew's next day out from `today` on, None where there is none."""
    rows = Assignment.objects.of(company).filter(crew=crew, date__gte=today).order_by("date")
    return rows.values_list("date", flat=True).first()


def _faces(company: Company, elevations: Sequence[Elevation], day: date) -> tuple[DayFace, ...]:
    if not elevations:
        return ()
    openings: dict[int, list[tuple[int, OpeningInput]]] = {face.pk: [] for face in elevations}
    rows = live_openings(company).filter(elevation__in=elevations).order_by("row", "id")
    for row in rows.values("id", "elevation_id", *COLUMNS):
        openings[row["elevation_id"]].append((row["id"], input_of_columns(row)))
    in_force = specifications_in_force(list({face.house.project for face in elevations}))
    accepted = accepted_openings(company, elevations)
    visits = _planned_before(company, elevations, day)
    planned = {visit["opening"] for visit in visits if not visit["is_covered"]}
    begun = {
        visit["opening"]: tuple(step["code"] for step in visit["steps"])
        for visit in visits
        if visit["is_covered"]
    }

    def is_set(pk: int) -> bool:
        # what is in the wall was accepted once, whatever was written down since
        return pk in planned or SET in begun.get(pk, ())

    return tuple(
        DayFace(
            face,
            tuple(along_the_wall([pair for pair in openings[face.pk] if pair[0] not in planned], face.name)),
            in_force[face.house.project_id],
            sum(pk in planned for pk, _ in openings[face.pk]),
            {pk: begun[pk] for pk, _ in openings[face.pk] if pk in begun},
            frozenset(pk for pk, _ in openings[face.pk] if pk not in accepted and not is_set(pk)),
        )
        for face in elevations
    )


def _planned_before(company: Company, elevations: Sequence[Elevation], day: date) -> list[dict[str, Any]]:
    """Return the visits that the newest sheets of the elevations' earlier days hold."""
    earlier = Assignment.objects.of(company).filter(elevation__in=elevations, date__lt=day)
    days = Q()
    for crew, date_ in set(earlier.values_list("crew", "date")):
        days |= Q(crew=crew, date=date_)
    if not days:
        return []
    newest: dict[tuple[int, date], DayPlan] = {}
    for plan in DayPlan.objects.of(company).filter(days).order_by("pk"):
        newest[plan.crew_id, plan.date] = plan
    return [visit for plan in newest.values() for visit in plan.plan["visits"]]


def _forecasts(company: Company, places: Sequence[str], day: date) -> dict[str, tuple[Forecast, ...]]:
    """Return each place's quarters around the day; a place whose day nobody has typed in has none."""
    found: dict[str, list[Forecast]] = {place: [] for place in places}
    rows = Forecast.objects.of(company).filter(
        place__in=places,
        date__gte=day - timedelta(days=DAYS_BEFORE),
        date__lte=day + timedelta(days=DAYS_AFTER),
    )
    for row in rows:
        found[row.place].append(row)
    return {
        place: tuple(quarters) if any(row.date == day for row in quarters) else ()
        for place, quarters in found.items()
    }


def _fitting(
    company: Company, elevations: Sequence[Elevation], day: date
) -> tuple[dict[int, ProjectPairs], dict[str, SheetShown]]:
    """Return what the day's projects use together, and the makers' sheets in force."""
    if not elevations:
        return {}, {}
    projects = {face.house.project_id: face.house.project for face in elevations}
    return pairs_of(company, list(projects.values())), sheets_in_force(company, day)


def _fitting_read(pairs: Mapping[int, ProjectPairs], sheets: Mapping[str, SheetShown]) -> tuple[object, ...]:
    """Return what a sheet says of them, so that nothing else makes it stale."""
    return (
        [
            (shown.project.name, [(pair.judged.told, pair.judged.answer) for pair in shown.open])
            for shown in pairs.values()
        ],
        [(key, shown.row.title, shown.row.dated, shown.is_old) for key, shown in sorted(sheets.items())],
    )


def _hash(
    crew: Crew,
    day: date,
    members: Sequence[CrewMember],
    faces: Sequence[DayFace],
    forecasts: Mapping[str, Sequence[Forecast]],
    *,
    fitting: tuple[object, ...],
) -> str:
    """Return a SHA-256 of everything that a sheet says or follows from."""
    read = (
        (PLAN_VERSION, RULES_VERSION, crew.pk, day),
        (crew.code, crew.name, crew.day_start_min, crew.day_end_min, crew.breaks, crew.set_up_min),
        (crew.clean_up_min, crew.has_lift, crew.par_list, [member.name for member in members]),
        [_face_read(face) for face in faces],
        [
            (row.place, row.date, row.quarter, row.temp_tenth_c, row.rh_percent, row.rain, row.wind_mph)
            for rows in forecasts.values()
            for row in sorted(rows, key=lambda each: (each.date, each.quarter))
        ],
        fitting,
    )
    return hashlib.sha256(repr(read).encode()).hexdigest()


def _face_read(face: DayFace) -> tuple[object, ...]:
    row, house = face.elevation, face.elevation.house
    return (
        (house.code, house.name, house.pre_1978, house.project.weather_place, row.pk, row.name, row.access),
        [getattr(row, tick) for tick in READINESS],
        (face.in_force.label, face.in_force.specification),
        face.openings,
        (face.planned, sorted(face.begun.items()), sorted(face.no_window)),
    )
