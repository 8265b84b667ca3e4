"""What was written down of a crew's work, as a sheet shows it: what is done, by whom, what is next."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from crews.dayplan.sheet import Sheet, SheetHold, SheetStep, SheetVisit
from crews.fieldwork.standing import Marked, standing
from crews.models import WorkEntry, WorkRecord
from projects.models import Company

MOST_NEXT = 3


@dataclass(frozen=True, slots=True)
class StepShown:
    """One step of a sheet; `done` is the entry that first says that it is done, None before."""

    step: SheetStep
    done: WorkEntry | None


@dataclass(frozen=True, slots=True)
class VisitShown:
    """One opening of a sheet with what is done of it."""

    visit: SheetVisit
    steps: tuple[StepShown, ...]

    @property
    def done(self) -> int:
        """Return how many of the day's steps are done."""
        return sum(each.done is not None for each in self.steps)

    @property
    def is_done(self) -> bool:
        """Return whether all of them are."""
        return self.done == len(self.steps)

    @property
    def open_codes(self) -> tuple[str, ...]:
        """Return the steps that are not done, in the order of the day."""
        return tuple(each.step.code for each in self.steps if each.done is None)


@dataclass(frozen=True, slots=True)
class NextStep:
    """A step whose turn it is; `holds` are the looks that it waits for."""

    visit: SheetVisit
    step: SheetStep
    holds: tuple[SheetHold, ...]


@dataclass(frozen=True, slots=True)
class WorkOfDay:
    """A sheet's openings with what is done of them, and the steps whose turn it is."""

    visits: tuple[VisitShown, ...] = ()

    @property
    def done(self) -> int:
        """Return how many openings have every step of the day done."""
        return sum(each.is_done for each in self.visits)

    @property
    def begins_at(self) -> int | None:
        """Return the first opening of which something is to do, None where nothing is."""
        return next((each.visit.opening for each in self.visits if not each.is_done), None)

    @property
    def next(self) -> tuple[NextStep, ...]:
        """Return the first open step of each opening, those of the openings that come first."""
        found = [_next(each) for each in self.visits if not each.is_done]
        return tuple(sorted(found, key=lambda each: each.step.start)[:MOST_NEXT])


def marks_of(company: Company, openings: Collection[int]) -> Mapping[int, list[Marked]]:
    """Return every record about the steps of these openings, by opening. One query."""
    rows = WorkRecord.objects.of(company).filter(entry__opening__in=openings)
    found: dict[int, list[Marked]] = {}
    told = rows.order_by("pk").values_list("entry__opening", "pk", "step", "takes_back")
    for opening, number, step, takes_back in told:
        found.setdefault(opening, []).append(Marked(number, step, takes_back))
    return found


def done_steps(company: Company, openings: Collection[int]) -> Mapping[int, Mapping[str, WorkEntry]]:
    """Return by opening the steps that are done, each with the entry that first says so. One query."""
    rows = WorkRecord.objects.of(company).filter(entry__opening__in=openings).select_related("entry__by")
    by_opening: dict[int, dict[int, WorkRecord]] = {}
    for row in rows.order_by("pk"):
        by_opening.setdefault(row.entry.opening_id, {})[row.pk] = row
    return {
        opening: {
            step: records[numbers[0]].entry for step, numbers in standing(_marked(records.values())).items()
        }
        for opening, records in by_opening.items()
    }


def work_of_day(company: Company, sheet: Sheet | None) -> WorkOfDay:
    """Return the sheet's openings with what is done of them. One query."""
    if sheet is None or not sheet.visits:
        return WorkOfDay()
    done = done_steps(company, [visit.opening for visit in sheet.visits])
    return WorkOfDay(
        tuple(
            VisitShown(
                visit,
                tuple(StepShown(step, done.get(visit.opening, {}).get(step.code)) for step in visit.steps),
            )
            for visit in sheet.visits
        )
    )


def _next(shown: VisitShown) -> NextStep:
    place = next(place for place, each in enumerate(shown.steps) if each.done is None)
    step = shown.steps[place].step
    before = shown.steps[place - 1].step.code if place else ""
    holds = tuple(
        hold for hold in shown.visit.holds if hold.code == (step.code if hold.is_before else before)
    )
    return NextStep(shown.visit, step, holds)


def _marked(records: Iterable[WorkRecord]) -> list[Marked]:
    return [Marked(row.pk, row.step, row.takes_back_id) for row in records]
