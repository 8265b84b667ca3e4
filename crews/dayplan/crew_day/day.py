"""A crew's day as the office knows it: who, from when to when, and which minutes of it are worked. Pure.

Times are whole minutes from midnight, local.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from projects.errors import BadValue

MIDNIGHT = 24 * 60


@dataclass(frozen=True, slots=True, order=True)
class ClockSpan:
    """From one minute of the day up to another."""

    start: int
    end: int

    def __post_init__(self) -> None:
        """Refuse a span that ends before it starts or leaves the day."""
        if not 0 <= self.start <= self.end <= MIDNIGHT:
            raise BadValue(
                problem=f"{clock(self.start)} to {clock(self.end)} is no span of one day.",
                remedy="Give a start before its end, both between 0:00 and 24:00.",
                value=f"{self.start}-{self.end}",
            )


@dataclass(frozen=True, slots=True)
class CrewDay:
    """A day of `people` hands. `set_up` and `clean_up` are minutes at its ends in which no opening is worked.

    `move` is what a person needs from one opening to the next, `travel` from one house to the next. Defaults
    are the demo's (E): 480 paid minutes, of which 105 are set-up, truck and clean-up.
    """

    day: date
    people: int
    start: int = 7 * 60
    end: int = 15 * 60 + 30
    breaks: tuple[ClockSpan, ...] = (ClockSpan(12 * 60, 12 * 60 + 30),)
    set_up: int = 60
    clean_up: int = 45
    move: int = 5
    travel: int = 20

    def __post_init__(self) -> None:
        """Refuse a day without hands or without a minute to work in."""
        if self.people < 1:
            raise BadValue(
                problem="The crew has nobody on this day.",
                remedy="Assign at least one person.",
                value=self.people,
            )
        if min(self.set_up, self.clean_up, self.move, self.travel) < 0:
            raise BadValue(problem="A time of the day is below 0.", remedy="Give minutes, 0 or more.")
        if any(later.start < earlier.end for earlier, later in pairwise(sorted(self.breaks))):
            raise BadValue(problem="Two breaks overlap.", remedy="Correct the crew's breaks.")
        if not worked_spans(self):
            raise BadValue(
                problem="No minute of the day is left for work.",
                remedy="Check start, end, set-up and breaks.",
                value=f"{clock(self.start)}-{clock(self.end)}",
            )


def worked_spans(day: CrewDay) -> tuple[ClockSpan, ...]:
    """Return the spans in which openings are worked, in order: no set-up, no breaks, no clean-up."""
    first, last = day.start + day.set_up, day.end - day.clean_up
    if not 0 <= first < last <= MIDNIGHT:
        return ()
    return cut_out([ClockSpan(first, last)], day.breaks)


def cut_out(spans: Iterable[ClockSpan], holes: Iterable[ClockSpan]) -> tuple[ClockSpan, ...]:
    """Return `spans` without `holes`, in order; what is empty is left out."""
    left = list(spans)
    for hole in holes:
        left = [part for span in left for part in _without(span, hole)]
    return tuple(sorted(left))


def first_fit(spans: Sequence[ClockSpan], earliest: int, *, minutes: int) -> int | None:
    """Return the first start from `earliest` on at which `minutes` lie inside one of `spans`, or None."""
    for span in spans:
        start = max(span.start, earliest)
        if start + minutes <= span.end:
            return start
    return None


def worked_minutes(spans: Iterable[ClockSpan], start: int, *, end: int) -> int:
    """Return how many minutes of `spans` lie between `start` and `end`."""
    return sum(max(0, min(span.end, end) - max(span.start, start)) for span in spans)


def clock(minute: int) -> str:
    """Return a minute of the day as people read it: `9:05`."""
    hours, minutes = divmod(minute, 60)
    return f"{hours}:{minutes:02d}"


def _without(span: ClockSpan, hole: ClockSpan) -> Iterator[ClockSpan]:
    if hole.end <= span.start or span.end <= hole.start:
        yield span
        return
    if span.start < hole.start:
        yield ClockSpan(span.start, hole.start)
    if hole.end < span.end:
        yield ClockSpan(hole.end, span.end)
