"""A crew's day from its openings: as many as can be finished, and why the rest is left. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from crews.dayplan.crew_day.board import Board, Placed, counted_from
from crews.dayplan.crew_day.day import CrewDay, clock, worked_minutes, worked_spans
from crews.dayplan.crew_day.dispatch import (
    MINUTES_PER_OPENING,
    QUICK_MINUTES_PER_OPENING,
    Blocked,
    dispatch,
    fill,
    rankings,
)
from crews.dayplan.crew_day.plan import CrewPlan, LeftOver, PlannedStep, PlannedVisit
from crews.dayplan.crew_day.site import Site, Stop, make_site, make_stop
from crews.dayplan.crew_day.verify import verify_crew_plan
from crews.dayplan.crew_day.visit import Visit, VisitStep
from projects.errors import AppError, BadValue

# After the longest run of openings along the wall, so many of those behind it are tried in the gaps.
MOST_TRIED_BEHIND = 3
COVER_CODE = "cover"


class BrokenCrewPlan(AppError):
    """Our own scheduler made a plan that breaks a rule: never the input's fault."""


def plan_crew_day(day: CrewDay, visits: Sequence[Visit], *, may_cover: bool = True) -> CrewPlan:
    """Return the day of a crew that works `visits` in walking order, verified.

    Openings are finished or not begun; with `may_cover` the first one left may be prepared and covered for
    the night. Raises BadValue where an opening is given twice, BrokenCrewPlan where the plan fails its check.
    """
    _refuse_twice(visits)
    left = {visit.name: reason for visit in visits if (reason := _why_never(day, visit))}
    able = [visit for visit in visits if visit.name not in left]
    board = _fill_day(day, able)
    done = {stop.visit.name for stop in board.site.stops}
    waiting = [visit for visit in able if visit.name not in done]
    left |= {visit.name: _why_full(board, visit) for visit in waiting}
    covered = _prepare_and_cover(board, waiting[0]) if may_cover and waiting else None
    if covered is not None:
        board = covered
        left[waiting[0].name] = "The day is full: prepared and covered today, to be set another day."
    plan = CrewPlan(
        visits=_planned_visits(board, visits),
        left_over=tuple(LeftOver(visit, left[visit.name]) for visit in visits if visit.name in left),
    )
    if broken := verify_crew_plan(day, visits, plan=plan):
        raise BrokenCrewPlan(*broken)
    return plan


def _refuse_twice(visits: Sequence[Visit]) -> None:
    names = [visit.name for visit in visits]
    for name in names:
        if names.count(name) > 1:
            raise BadValue(problem=f"{name} is given twice.", remedy="Give each opening once.", value=name)


def _why_never(day: CrewDay, visit: Visit) -> str:
    """Return why the opening can't be finished on this day even if the crew did nothing else, or nothing."""
    if visit.impossible or not visit.steps:
        return visit.impossible or "Nothing is left to do here on this day."
    most = max((step.people for step in visit.steps), default=0)
    if most > day.people:
        return f"It takes {most} people; the crew has {day.people}."
    site = make_site(day, [visit])
    found = dispatch(site, next(iter(rankings(site))))
    return _why_blocked(site, found) if isinstance(found, Blocked) else ""


def _why_full(board: Board, visit: Visit) -> str:
    """Return why `visit` has no room after all that is planned."""
    wider = board.with_stop(make_stop(visit, board.site.worked))
    place = len(board.site.stops)
    blocked = fill(wider, {(place, number): number for number in range(len(wider.site.stops[place].units))})
    if blocked is None:
        return f"The day is full: {visit.person_minutes} person-minutes for another day."
    return f"The day is full. {_why_blocked(wider.site, blocked)}"


def _why_blocked(site: Site, blocked: Blocked) -> str:
    stop, code = site.stops[blocked.place], blocked.dead_end.code
    step = next(step for step in stop.visit.steps if step.code == code)
    last = site.worked[-1].end
    told = [
        reason
        for closed in step.closed
        if blocked.dead_end.earliest < closed.span.end and closed.span.start < last
        for reason in closed.reasons
    ][:1]
    told += [lag.why for lag in stop.lags_to[code] if lag.minimum]
    name = step.label.split(",")[0].split(":")[0]
    return " ".join([f"{name}: no {step.minutes} min are left for it before {clock(last)}.", *told])


def _fill_day(day: CrewDay, able: Sequence[Visit]) -> Board:
    """Return the best board of as many openings as fit: a run along the wall, then some behind it."""
    count = _most_by_work(day, able)
    while _best_board(make_site(day, able[:count]), QUICK_MINUTES_PER_OPENING) is None:
        count -= 1
    while count < len(able) and _best_board(make_site(day, able[: count + 1])) is not None:
        count += 1
    chosen = list(able[:count])
    for visit in able[count:][:MOST_TRIED_BEHIND]:
        if _best_board(make_site(day, [*chosen, visit]), QUICK_MINUTES_PER_OPENING) is not None:
            chosen.append(visit)
    # What the quick rankings could place, all of them can.
    return _best_board(make_site(day, chosen)) or Board(make_site(day, ()))


def _most_by_work(day: CrewDay, visits: Sequence[Visit]) -> int:
    """Return how many of the first `visits` have no more work than the crew has minutes."""
    spans = worked_spans(day)
    left = day.people * worked_minutes(spans, spans[0].start, end=spans[-1].end)
    for count, visit in enumerate(visits):
        left -= visit.person_minutes
        if left < 0:
            return count
    return len(visits)


def _best_board(site: Site, steps: Sequence[int] = MINUTES_PER_OPENING) -> Board | None:
    """Return the best board that the rankings lead to: it ends early, and openings stay open briefly."""
    found = (dispatch(site, ranks) for ranks in rankings(site, steps))
    boards = [board for board in found if isinstance(board, Board)]
    return min(boards, key=lambda board: board.end() * len(site.stops) + 2 * board.openness(), default=None)


def _prepare_and_cover(board: Board, visit: Visit) -> Board | None:
    """Return the board with what comes before setting `visit` and its cover, None where that doesn't fit."""
    if visit.cover is None:
        return None
    closing = next(unit for unit in make_stop(visit, ()).units if visit.cover.closed_by in unit.codes)
    after = _followers(visit, closing.codes)
    steps = tuple(step for step in visit.steps if step.code not in after)
    codes = {step.code for step in steps}
    cover = VisitStep(COVER_CODE, visit.cover.label, visit.cover.minutes, visit.cover.people)
    part = replace(
        visit,
        steps=(*steps, cover),
        order=(
            *(pair for pair in visit.order if codes.issuperset(pair)),
            *((code, COVER_CODE) for code in codes),
        ),
        lags=tuple(lag for lag in visit.lags if {lag.before, lag.after} <= codes),
        cover=None,
    )
    wider = board.with_stop(make_stop(part, board.site.worked))
    place = len(board.site.stops)
    ranks = {(place, number): number for number in range(len(wider.site.stops[place].units))}
    return wider if visit.cover.opened_by in codes and fill(wider, ranks) is None else None


def _followers(visit: Visit, codes: frozenset[str]) -> set[str]:
    """Return `codes` and every step that comes after one of them."""
    found = set(codes)
    for _ in visit.steps:
        found |= {then for first, then in visit.order if first in found}
    return found


def _planned_visits(board: Board, visits: Sequence[Visit]) -> tuple[PlannedVisit, ...]:
    whole = {visit.name: visit for visit in visits}
    planned = []
    for stop, placed in zip(board.site.stops, board.placed, strict=True):
        steps = sorted(placed.values(), key=lambda step: (step.start, step.end))
        planned.append(
            PlannedVisit(
                whole[stop.visit.name],
                tuple(_planned_step(board.site, stop, placed=placed, step=step) for step in steps),
                is_covered=COVER_CODE in placed,
            )
        )
    return tuple(sorted((each for each in planned if each.steps), key=lambda each: each.steps[0].start))


def _planned_step(site: Site, stop: Stop, *, placed: dict[str, Placed], step: Placed) -> PlannedStep:
    wanted = next(each for each in stop.visit.steps if each.code == step.code)
    ready = max([site.worked[0].start, *(placed[first].end for first in stop.befores[step.code])])
    waits, limits, whys = [], [], []
    for lag in stop.lags_to[step.code]:
        counted = counted_from(lag, placed[lag.before])
        if lag.minimum and counted + lag.minimum > ready:
            waits.append(counted + lag.minimum)
        if lag.maximum is not None:
            limits.append(counted + lag.maximum)
        whys.append(lag.why)
    for closed in wanted.closed:
        if ready < closed.span.end <= step.start:
            waits.append(closed.span.end)
            whys += closed.reasons
    return PlannedStep(
        code=step.code,
        label=wanted.label,
        start=step.start,
        end=step.end,
        hands=step.hands,
        wait_until=max(waits, default=None),
        no_later_than=min(limits, default=None),
        why=" ".join(dict.fromkeys(whys)),
        notes=wanted.notes,
    )
