"""What a crew does at one opening on one day: steps, their order, waits and gates in minutes. Pure."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from crews.dayplan.crew_day.day import ClockSpan
from crews.dayplan.problem import LagKind
from projects.errors import BadValue


@dataclass(frozen=True, slots=True)
class Closed:
    """A span of the day in which a step may not be done, with the reasons."""

    span: ClockSpan
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class VisitStep:
    """One step: `minutes` with `people` hands. `notes` are what the crew should read beside it."""

    code: str
    label: str
    minutes: int
    people: int
    is_outside: bool = True
    closed: tuple[Closed, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class VisitLag:
    """A wait in minutes between two steps, with the reason; None: no limit that way."""

    before: str
    after: str
    kind: LagKind
    why: str
    minimum: int | None = None
    maximum: int | None = None


@dataclass(frozen=True, slots=True)
class VisitHold:
    """Work stops before or after `step` until somebody has looked; `step` may be one that others do."""

    step: str
    is_before: bool
    label: str
    looks: tuple[str, ...]
    signs: str


@dataclass(frozen=True, slots=True)
class Cover:
    """What closes an opening for the night when `opened_by` is done and `closed_by` is not."""

    label: str
    opened_by: str
    closed_by: str
    minutes: int
    people: int


@dataclass(frozen=True, slots=True)
class LaterStep:
    """A step that is not for this crew on this day, with the reason."""

    code: str
    label: str
    why: str


@dataclass(frozen=True, slots=True)
class Visit:
    """An opening's work for a day. `order` are pairs of codes, first and then.

    `impossible` says why the opening can't be done today at all, empty where it can be tried. Raises BadValue
    where a code is given twice or an order, a wait or a cover names a step that isn't there.
    """

    house: str
    elevation: str
    mark: str
    steps: tuple[VisitStep, ...]
    order: tuple[tuple[str, str], ...] = ()
    lags: tuple[VisitLag, ...] = ()
    holds: tuple[VisitHold, ...] = ()
    cover: Cover | None = None
    later: tuple[LaterStep, ...] = ()
    impossible: str = ""

    def __post_init__(self) -> None:
        """Refuse what names no step of this visit."""
        codes = Counter(step.code for step in self.steps)
        named = [code for pair in self.order for code in pair]
        named += [code for lag in self.lags for code in (lag.before, lag.after)]
        if self.cover is not None:
            named += [self.cover.opened_by, self.cover.closed_by]
        wrong = [code for code, count in codes.items() if count > 1]
        wrong += [code for code in named if code not in codes]
        if wrong:
            raise BadValue(
                problem=f"{self.mark}: step {wrong[0]!r} is named, but not there once.",
                remedy="Name each step once, and only steps of this opening.",
                value=wrong[0],
            )

    @property
    def name(self) -> str:
        """Return house, elevation and mark: unique in a day."""
        return f"{self.house} / {self.elevation} / {self.mark}"

    @property
    def person_minutes(self) -> int:
        """Return the work of all steps, without moves."""
        return sum(step.minutes * step.people for step in self.steps)
