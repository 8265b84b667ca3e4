"""A crew's day: planned, verified, kept with the hash of what it was made from; its sheet asked for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from crews.convert.cautions import cautions_of_pairs, cautions_of_sheets
from crews.convert.days import crew_day_of, day_weather, hourly_forecast, reach_of, visit_of
from crews.convert.labour import Reach
from crews.convert.loads import load_lines
from crews.convert.sheets import DayGround, Ground, sheet_of
from crews.convert.words import counted, day_told
from crews.cure.forecast import Forecast
from crews.dayplan.crew_day.day import CrewDay
from crews.dayplan.crew_day.plan import CrewPlan
from crews.dayplan.crew_day.solve import plan_crew_day
from crews.dayplan.crew_day.visit import Visit
from crews.dayplan.sheet import LeftOver, LoadLine, Sheet, SheetCaution, sheet_as_json
from crews.errors import NobodyInCrew, NothingAssigned
from crews.models import Crew, DayPlan
from crews.selectors.days import DayFace, DayInputs, day_inputs, plan_for
from crews.selectors.readiness import missing_of, sentence
from crews.selectors.sheets import SHEET_KIND
from crews.selectors.weather import DayShown
from materials.selectors.demand import by_material, openings_demand
from openings.takeoff.compute import RULES_VERSION, take_off_house
from projects import jobs
from projects.actors import Actor
from projects.models import Access, Job
from projects.printing import printed_hash
from projects.rights import Action, require
from projects.services.writing import record

NO_WINDOW = "Its window is not accepted."
WHOLE, PART, NONE = "whole", "part", "none"


@dataclass(frozen=True, slots=True)
class _Openings:
    """The day's openings made ready for planning, and what was refused of them."""

    visits: tuple[Visit, ...]
    grounds: dict[str, Ground]
    refused: tuple[LeftOver, ...]
    notices: tuple[str, ...]


def plan_day(*, by: Actor, crew: Crew, day: date) -> DayPlan:
    """Return the plan of the crew's day as things stand: the one made from the same inputs, else a new one.

    The plan is made outside the transaction, for it takes seconds; the row is unique per inputs. Raises
    NobodyInCrew, NothingAssigned.
    """
    require(by, Action.SEE_SHEETS, crew)
    inputs = day_inputs(by.company, crew, day)
    _refuse_empty(inputs)
    kept = plan_for(by.company, crew, day, inputs.input_hash)
    if kept is not None:
        return kept
    sheet = make_sheet(inputs)
    with transaction.atomic():
        row, is_new = DayPlan.objects.get_or_create(
            crew=crew,
            date=day,
            input_hash=inputs.input_hash,
            defaults={"company": by.company, "status": _status(sheet), "plan": sheet_as_json(sheet)},
        )
        if is_new:
            record(by=by, action="plan day", subject=row, after={"crew_id": crew.pk, "date": day})
    return row


def request_sheet(*, by: Actor, crew: Crew, day: date) -> Job:
    """Return the job that plans the day and draws its sheet: a new one, or the one that did or does it.

    Raises NobodyInCrew, NothingAssigned.
    """
    require(by, Action.SEE_SHEETS, crew)
    inputs = day_inputs(by.company, crew, day)
    _refuse_empty(inputs)
    arguments = {"crew": crew.pk, "day": day.isoformat()}
    return jobs.enqueue(
        by=by, kind=SHEET_KIND, arguments=arguments, input_hash=printed_hash(by.company, inputs.input_hash)
    )


def renew_sheet(*, by: Actor, crew: Crew, day: date) -> Job | None:
    """Ask for the day's sheet anew where one was made before, so that nobody works from a stale one."""
    if not DayPlan.objects.of(by.company).filter(crew=crew, date=day).exists():
        return None
    try:
        return request_sheet(by=by, crew=crew, day=day)
    except (NobodyInCrew, NothingAssigned):
        return None


def make_sheet(inputs: DayInputs) -> Sheet:
    """Return the sheet of a day: openings planned and verified, loads, cautions, what is left over."""
    company, crew = inputs.crew.company, inputs.crew
    day = crew_day_of(crew, people=len(inputs.members), day=inputs.day)
    forecasts = {place: hourly_forecast(rows) for place, rows in inputs.forecasts.items()}
    found = _openings(inputs, day, forecasts)
    plan = plan_crew_day(day, found.visits)
    planned = [found.grounds[each.visit.name].opening for each in plan.visits]
    demands = by_material(openings_demand(company, planned, inputs.day))
    specification = inputs.faces[0].in_force.specification
    ground = DayGround(
        crew=crew,
        day=day,
        people=tuple(member.name for member in inputs.members),
        by_visit=found.grounds,
        forecasts=forecasts,
        weather=tuple(_told(place, inputs) for place in inputs.forecasts),
        load=(
            *_windows(plan),
            *load_lines(demands, specification),
            *_equipment(inputs),
        ),
        refused=found.refused,
        notices=(*_notices(inputs), *found.notices),
        made_from=_made_from(inputs),
        cautions=tuple(_cautions(inputs, [demand.material for demand in demands])),
    )
    return sheet_of(plan, ground)


def _cautions(inputs: DayInputs, used: Sequence[str]) -> Iterator[SheetCaution]:
    projects = {face.elevation.house.project_id: face.elevation.house.project for face in inputs.faces}
    for pk, project in projects.items():
        yield from cautions_of_pairs(project, inputs.pairs[pk])
    yield from cautions_of_sheets(used, inputs.sheets)


def _refuse_empty(inputs: DayInputs) -> None:
    if not inputs.members:
        raise NobodyInCrew(crew=inputs.crew.code)
    if not inputs.faces:
        raise NothingAssigned(crew=inputs.crew.code, day=day_told(inputs.day))


def _openings(inputs: DayInputs, day: CrewDay, forecasts: dict[str, Forecast | None]) -> _Openings:
    visits: list[Visit] = []
    grounds: dict[str, Ground] = {}
    refused: list[LeftOver] = []
    notices: list[str] = []
    for face in inputs.faces:
        specification = face.in_force.specification
        taken = take_off_house([value for _, value in face.openings], specification)
        weather = day_weather(day, forecasts.get(face.elevation.house.project.weather_place))
        by_mark = {each.opening.mark: each for each in taken.openings}
        notices += taken.notices
        for pk, value in face.openings:
            if value.mark not in by_mark:
                why = next((p.problem for p in taken.problems if p.problem.startswith(f"{value.mark}: ")), "")
                refused.append(_refused(face, pk, value.mark, why or "It could not be taken off."))
                continue
            if pk in face.no_window:
                refused.append(_refused(face, pk, value.mark, NO_WINDOW))
                continue
            reach: Reach = reach_of(face.elevation, inputs.crew, face.begun.get(pk, ()))
            visit = visit_of(by_mark[value.mark], specification, reach=reach, weather=weather)
            visits.append(visit)
            grounds[visit.name] = Ground(pk, by_mark[value.mark], specification, face.elevation)
    return _Openings(tuple(visits), grounds, tuple(refused), tuple(dict.fromkeys(notices)))


def _refused(face: DayFace, opening: int, mark: str, why: str) -> LeftOver:
    return LeftOver(opening, face.elevation.house.code, face.elevation.name, mark, why)


def _windows(plan: CrewPlan) -> tuple[LoadLine, ...]:
    marks = [each.visit.mark for each in plan.visits if not each.is_covered]
    if not marks:
        return ()
    return (
        LoadLine(
            "Windows", f"{len(marks)}", f"{', '.join(marks)}: counted and accepted before the truck leaves"
        ),
    )


def _equipment(inputs: DayInputs) -> tuple[LoadLine, ...]:
    needed = {Access.LADDER: "Ladder", Access.LIFT: "Lift"}
    faces: dict[str, list[str]] = {}
    for face in inputs.faces:
        if face.elevation.access in needed:
            named = f"{face.elevation.house.code} {face.elevation.name}"
            faces.setdefault(face.elevation.access, []).append(named)
    return tuple(
        LoadLine(needed[Access(access)], "1", f"for {', '.join(of)}") for access, of in faces.items()
    )


def _told(place: str, inputs: DayInputs) -> str:
    quarters = {row.quarter: row for row in inputs.forecasts[place] if row.date == inputs.day}
    shown = DayShown(place, inputs.day, quarters)
    if not shown.is_known:
        return f"{place}: no weather typed in"
    parts = [shown.temperature, shown.humidity, shown.wet or "dry", shown.wind]
    return f"{place}: {', '.join(part for part in parts if part)}"


def _notices(inputs: DayInputs) -> list[str]:
    told: list[str] = []
    for face in inputs.faces:
        standing = face.in_force.specification.method
        methods = [value.method or standing for _, value in face.openings]
        no_window = [value.mark for pk, value in face.openings if pk in face.no_window]
        missing = missing_of(face.elevation, methods, no_window)
        told += sentence(face.elevation, missing)
        if face.planned:
            count = counted(face.planned, "opening")
            told.append(f"{count} of {face.elevation.name} on an earlier day's sheet.")
        if not face.elevation.house.project.weather_place:
            told.append(
                f"{face.elevation.house.project.name} has no weather place, so no weather is checked."
            )
    told += [
        f"No weather is typed in for {place}: gates are not checked, and waits are the sheets' own."
        for place, rows in inputs.forecasts.items()
        if not rows
    ]
    return list(dict.fromkeys(told))


def _made_from(inputs: DayInputs) -> tuple[str, ...]:
    labels = {
        f"specification {face.in_force.label} of {face.elevation.house.project.code}" for face in inputs.faces
    }
    return (*sorted(labels), f"rules {RULES_VERSION}", f"inputs {inputs.input_hash[:12]}")


def _status(sheet: Sheet) -> str:
    if not sheet.visits:
        return NONE
    return PART if sheet.left_over else WHOLE
