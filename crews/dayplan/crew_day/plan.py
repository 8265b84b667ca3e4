"""A crew's planned day: who does which step of which opening when, what waits, what is left for later. Pure.

Times are whole minutes from midnight, local.
"""

from __future__ import annotations

from dataclasses import dataclass

from crews.dayplan.crew_day.visit import LaterStep, Visit, VisitHold


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """A step with its clock times and the `hands` (numbered from 1) that do it.

    `wait_until` is the minute before which weather, bead or primer do not allow it; `no_later_than` the last
    minute to start it; `why` gives the reason of either, `notes` what else the crew reads beside it.
    """

    code: str
    label: str
    start: int
    end: int
    hands: tuple[int, ...]
    wait_until: int | None = None
    no_later_than: int | None = None
    why: str = ""
    notes: tuple[str, ...] = ()

    @property
    def people(self) -> int:
        """Return how many hands do it."""
        return len(self.hands)


@dataclass(frozen=True, slots=True)
class PlannedVisit:
    """An opening with its steps in order of time. `is_covered`: prepared today and covered for the night."""

    visit: Visit
    steps: tuple[PlannedStep, ...]
    is_covered: bool = False

    def step(self, code: str) -> PlannedStep | None:
        """Return the planned step with `code`, None where it isn't planned."""
        return next((step for step in self.steps if step.code == code), None)


@dataclass(frozen=True, slots=True)
class PlannedHold:
    """A hold point of an opening: at a minute of the day, None where it belongs to a step of others."""

    visit: Visit
    hold: VisitHold
    at: int | None


@dataclass(frozen=True, slots=True)
class LeftOver:
    """An opening that is not finished on this day, with the reason."""

    visit: Visit
    reason: str


@dataclass(frozen=True, slots=True)
class CrewPlan:
    """A crew's day: openings in order of their first step, and what is left over in walking order."""

    visits: tuple[PlannedVisit, ...]
    left_over: tuple[LeftOver, ...] = ()

    @property
    def ends_at(self) -> int | None:
        """Return the minute at which the last step ends, None for a day without steps."""
        return max((step.end for planned in self.visits for step in planned.steps), default=None)

    @property
    def hold_points(self) -> tuple[PlannedHold, ...]:
        """Return every hold point, those of this day in order of time, then those at steps of others."""
        found = [
            PlannedHold(planned.visit, hold, _minute_of(planned, hold))
            for planned in self.visits
            for hold in planned.visit.holds
        ]
        return tuple(sorted(found, key=lambda each: (each.at is None, each.at or 0)))

    @property
    def later_steps(self) -> tuple[tuple[Visit, LaterStep], ...]:
        """Return the steps that others do, or that wait for another day, by opening."""
        return tuple((planned.visit, step) for planned in self.visits for step in planned.visit.later)

    def lane(self, hand: int) -> tuple[tuple[PlannedVisit, PlannedStep], ...]:
        """Return what the person with number `hand` does, in order of time."""
        mine = [(planned, step) for planned in self.visits for step in planned.steps if hand in step.hands]
        return tuple(sorted(mine, key=lambda each: (each[1].start, each[1].end)))


def _minute_of(planned: PlannedVisit, hold: VisitHold) -> int | None:
    step = planned.step(hold.step)
    if step is None:
        return None
    return step.start if hold.is_before else step.end
