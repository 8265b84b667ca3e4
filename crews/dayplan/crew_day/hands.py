"""Each person's day: what they do one after another, and where one more run fits with its walking. Pure."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from crews.dayplan.crew_day.day import first_fit
from crews.dayplan.crew_day.site import Site
from crews.dayplan.crew_day.visit import Visit


@dataclass(frozen=True, slots=True)
class Busy:
    """A person at an opening without leaving it, from one minute to another."""

    start: int
    end: int
    visit: Visit


@dataclass(frozen=True, slots=True)
class Hand:
    """A person's day so far, in order of time."""

    number: int
    busy: tuple[Busy, ...] = ()

    def with_busy(self, busy: Busy) -> Hand:
        """Return the hand with one more thing to do."""
        place = bisect_right([each.start for each in self.busy], busy.start)
        return Hand(self.number, (*self.busy[:place], busy, *self.busy[place:]))

    def arrivals(self, site: Site, visit: Visit, *, wanted: int) -> Iterator[int]:
        """Yield when the person can be at `visit`: by the minute `wanted`, and after each thing done later.

        The first one may be earlier than wanted; they are in order.
        """
        place = max(0, bisect_right([each.end for each in self.busy], wanted) - 1)
        ends = [(each.end, each.visit) for each in self.busy[place:]]
        if not ends or ends[0][0] > wanted:
            yield from _arrive_or_not(site, None, there=visit, set_off=site.worked[0].start)
        for end, here in ends:
            yield from _arrive_or_not(site, here, there=visit, set_off=end)

    def walk_to(self, site: Site, visit: Visit, *, start: int, end: int) -> int | None:
        """Return the walk to be at `visit` from `start` to `end` between all else; None where it can't be."""
        place = bisect_right([each.start for each in self.busy], start)
        before = self.busy[place - 1] if place else None
        set_off = before.end if before else site.worked[0].start
        arrival = arrive(site, before.visit if before else None, there=visit, set_off=set_off)
        if arrival is None or arrival > start:
            return None
        if place < len(self.busy):
            following = self.busy[place]
            there = arrive(site, visit, there=following.visit, set_off=end)
            if there is None or there > following.start:
                return None
        return site.move_minutes(before.visit if before else None, visit)


def arrive(site: Site, here: Visit | None, *, there: Visit, set_off: int) -> int | None:
    """Return when a person who leaves `here` at `set_off` is `there`; None where no worked time is left."""
    walk = site.move_minutes(here, there)
    if walk == 0:
        return set_off
    leaving = first_fit(site.worked, set_off, minutes=walk)
    return None if leaving is None else leaving + walk


def _arrive_or_not(site: Site, here: Visit | None, *, there: Visit, set_off: int) -> Iterator[int]:
    arrival = arrive(site, here, there=there, set_off=set_off)
    if arrival is not None:
        yield arrival


def choose_hands(
    hands: Sequence[Hand], site: Site, *, visit: Visit, people: int, span: tuple[int, int]
) -> tuple[int, ...] | None:
    """Return the numbers of `people` who can be at `visit` for the whole `span`, those nearest first.

    None where there are not so many.
    """
    start, end = span
    able = sorted(
        (walk, hand.number)
        for hand in hands
        if (walk := hand.walk_to(site, visit, start=start, end=end)) is not None
    )
    return tuple(sorted(number for _, number in able[:people])) if len(able) >= people else None
