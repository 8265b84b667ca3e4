"""A verified plan, takeoffs and weather become a crew's sheet; no query here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from crews.convert.cautions import (
    cautions_of_face,
    cautions_of_opening,
    cautions_of_steps,
    cautions_of_weather,
    once,
)
from crews.convert.labour import method_of
from crews.cure.forecast import Forecast
from crews.dayplan.crew_day.day import CrewDay, worked_spans
from crews.dayplan.crew_day.plan import CrewPlan, PlannedHold, PlannedStep, PlannedVisit
from crews.dayplan.crew_day.visit import Visit, VisitHold
from crews.dayplan.problem import LagKind
from crews.dayplan.sheet import (
    LeftOver,
    LoadLine,
    ScrewLine,
    Sheet,
    SheetCaution,
    SheetHold,
    SheetStep,
    SheetVisit,
    ShutGate,
)
from crews.models import Crew
from openings.takeoff.compute import OpeningTakeoff
from openings.takeoff.demand import Fasteners
from openings.takeoff.specification import Specification
from projects.models import Elevation

OUTSIDE = "outside work"
MOST_NAMED = 3


@dataclass(frozen=True, slots=True)
class Ground:
    """One opening of the day beside its visit: its row's number, takeoff, specification, elevation."""

    opening: int
    takeoff: OpeningTakeoff
    specification: Specification
    face: Elevation


@dataclass(frozen=True, slots=True)
class DayGround:
    """What a sheet says beside the plan itself. `refused` are openings that could not be taken off.

    `cautions` are those of the day's materials.
    """

    crew: Crew
    day: CrewDay
    people: tuple[str, ...]
    by_visit: Mapping[str, Ground]
    forecasts: Mapping[str, Forecast | None]
    weather: tuple[str, ...]
    load: tuple[LoadLine, ...]
    refused: tuple[LeftOver, ...]
    notices: tuple[str, ...]
    made_from: tuple[str, ...]
    cautions: tuple[SheetCaution, ...] = ()


def sheet_of(plan: CrewPlan, ground: DayGround) -> Sheet:
    """Return the crew's sheet for the planned day."""
    told: set[str] = set()
    holds = plan.hold_points
    visits = tuple(_visit(planned, ground, told=told, holds=holds) for planned in plan.visits)
    faces = list({id(each.face): each.face for each in ground.by_visit.values()}.values())
    day = ground.day
    return Sheet(
        crew=ground.crew.code,
        crew_name=ground.crew.name,
        day=day.day.isoformat(),
        start=day.start,
        end=day.end,
        set_up_until=day.start + day.set_up,
        clean_up_from=day.end - day.clean_up,
        breaks=tuple((pause.start, pause.end) for pause in day.breaks),
        people=ground.people,
        places=tuple(f"{face.house.code} {face.name}" for face in faces),
        weather=ground.weather,
        visits=visits,
        load=ground.load,
        par_list=tuple(ground.crew.par_list),
        cautions=_day_cautions(faces, ground),
        gates=tuple(_gates(plan, day)),
        left_over=(*_left_over(plan, ground), *ground.refused),
        notices=ground.notices,
        made_from=ground.made_from,
    )


def _day_cautions(faces: Sequence[Elevation], ground: DayGround) -> tuple[SheetCaution, ...]:
    of_faces = (caution for face in faces for caution in cautions_of_face(face))
    of_weather = (
        caution
        for place, forecast in ground.forecasts.items()
        for caution in cautions_of_weather(ground.day, forecast, place)
    )
    return once((*of_faces, *of_weather, *ground.cautions))


def _visit(
    planned: PlannedVisit, ground: DayGround, *, told: set[str], holds: Sequence[PlannedHold]
) -> SheetVisit:
    """Return one opening; `told` are cautions that the crew has read already."""
    visit, own = planned.visit, ground.by_visit[planned.visit.name]
    method = method_of(own.takeoff, own.specification)
    value, weight = own.takeoff.opening, own.takeoff.weight
    of_steps = cautions_of_steps(method, [step.code for step in planned.steps])
    fresh = [caution for caution in of_steps.values() if caution.where not in told]
    told.update(caution.where for caution in fresh)
    labels = {step.code: step.label for step in method.steps}
    return SheetVisit(
        opening=own.opening,
        house=visit.house,
        elevation=visit.elevation,
        mark=visit.mark,
        is_covered=planned.is_covered,
        method=method.code,
        width_nm=value.unit_width.nm,
        height_nm=value.unit_height.nm,
        weight="" if weight is None else f"{weight.in_pounds:.0f} lb",
        steps=tuple(_step(step, planned) for step in planned.steps),
        screws=_screws(own.takeoff),
        holds=tuple(
            _hold(each.hold, planned, label=labels[each.hold.step], at=each.at)
            for each in holds
            if each.visit is visit
        ),
        cautions=once((*cautions_of_opening(own.takeoff, method), *fresh)),
        notes=(
            *((f"Note: {value.note}",) if value.note else ()),
            *(notice.text for notice in own.takeoff.notices),
        ),
        later=tuple(f"{step.label}: {step.why}" for step in visit.later),
    )


def _hold(hold: VisitHold, planned: PlannedVisit, *, label: str, at: int | None) -> SheetHold:
    return SheetHold(
        mark=planned.visit.mark,
        code=hold.step,
        step=label,
        is_before=hold.is_before,
        label=hold.label,
        looks=hold.looks,
        signs=hold.signs,
        at=at,
    )


def _step(step: PlannedStep, planned: PlannedVisit) -> SheetStep:
    lag = _binding_wait(step, planned)
    return SheetStep(
        code=step.code,
        label=step.label,
        start=step.start,
        end=step.end,
        hands=step.hands,
        wait_from=lag[0] if lag else None,
        wait_until=step.wait_until,
        waits_for=lag[1] if lag else "",
        before=step.no_later_than,
        why=step.why,
        notes=step.notes,
    )


def _binding_wait(step: PlannedStep, planned: PlannedVisit) -> tuple[int, str] | None:
    """Return from when the step's wait runs and the words of the step that it waits for; None for weather."""
    for lag in planned.visit.lags:
        before = planned.step(lag.before)
        if lag.after != step.code or lag.minimum is None or before is None:
            continue
        counted = before.end if lag.kind is LagKind.FINISH_START else before.start
        if counted + lag.minimum == step.wait_until:
            return counted, before.code.replace("-", " ")
    return None


def _screws(takeoff: OpeningTakeoff) -> tuple[ScrewLine, ...]:
    return tuple(
        ScrewLine(line.zone, line.positions_nm) for line in takeoff.lines if isinstance(line, Fasteners)
    )


def _left_over(plan: CrewPlan, ground: DayGround) -> Iterator[LeftOver]:
    for each in plan.left_over:
        visit = each.visit
        opening = ground.by_visit[visit.name].opening
        yield LeftOver(opening, visit.house, visit.elevation, visit.mark, each.reason)


def _gates(plan: CrewPlan, day: CrewDay) -> Iterator[ShutGate]:
    """Yield the spans in which the weather shuts work, with what it shuts, in order of time."""
    spans = worked_spans(day)
    first, last = spans[0].start, spans[-1].end
    shut: dict[tuple[int, int, str], list[str]] = {}
    for step, closed in _closed_steps(plan):
        start, end = max(first, closed[0]), min(last, closed[1])
        if start < end:
            for reason in closed[2]:
                shut.setdefault((start, end, reason), []).append(step)
    for (start, end, reason), codes in sorted(shut.items()):
        named = list(dict.fromkeys(code.replace("-", " ") for code in codes))
        work = OUTSIDE if len(named) > MOST_NAMED else ", ".join(named)
        yield ShutGate(start, end, work, reason)


def _closed_steps(plan: CrewPlan) -> Iterator[tuple[str, tuple[int, int, Iterable[str]]]]:
    visits: list[Visit] = [planned.visit for planned in plan.visits]
    visits += [each.visit for each in plan.left_over]
    for visit in visits:
        for step in visit.steps:
            for closed in step.closed:
                yield step.code, (closed.span.start, closed.span.end, closed.reasons)
