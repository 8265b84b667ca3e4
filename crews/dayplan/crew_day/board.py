"""The day as it fills up: which steps are placed, who does them, where the next unit fits. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from crews.dayplan.crew_day.day import first_fit
from crews.dayplan.crew_day.hands import Busy, Hand, choose_hands
from crews.dayplan.crew_day.runs import Run, Unit
from crews.dayplan.crew_day.site import Site, Stop
from crews.dayplan.crew_day.visit import VisitLag
from crews.dayplan.problem import LagKind

# How often a unit's first run is pushed later so that its second one comes soon enough.
MOST_PUSHES = 60


@dataclass(frozen=True, slots=True)
class Placed:
    """A step with its minutes and the hands that do it."""

    code: str
    start: int
    end: int
    hands: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Placement:
    """Where a unit fits: its steps in order, and the hands as they are with it."""

    steps: tuple[Placed, ...]
    hands: tuple[Hand, ...]


@dataclass(frozen=True, slots=True)
class DeadEnd:
    """A step that fits nowhere in the day: the earliest minute at which it could have started."""

    code: str
    earliest: int


class Board:
    """Placed steps by stop, and the hands; units are added, never taken away."""

    def __init__(self, site: Site) -> None:
        """Begin the day with everybody at the truck."""
        self.site = site
        self.hands = tuple(Hand(number) for number in range(1, site.day.people + 1))
        self.placed: list[dict[str, Placed]] = [{} for _ in site.stops]

    def fit(self, place: int, unit: Unit) -> Placement | DeadEnd:
        """Return where `unit` of stop number `place` fits first between all that is placed.

        Where its second run would come too late for the first, the first is pushed later.
        """
        stop, placed = self.site.stops[place], self.placed[place]
        not_before = 0
        for _ in range(MOST_PUSHES):
            found = self._lay_out(stop, placed, unit=unit, not_before=not_before)
            if isinstance(found, DeadEnd):
                return found
            known = {**placed, **{step.code: step for step in found.steps}}
            late = max([0, *(_lateness(lag, known) for lag in stop.visit.lags)])
            if late == 0:
                return found
            not_before = max(not_before, found.steps[0].start) + late
        return DeadEnd(unit.runs[-1].steps[0].code, not_before)

    def place(self, place: int, placement: Placement) -> None:
        """Put a placement on the board."""
        self.placed[place].update({step.code: step for step in placement.steps})
        self.hands = placement.hands

    def end(self) -> int:
        """Return when the last placed step ends, 0 where none is."""
        return max((step.end for placed in self.placed for step in placed.values()), default=0)

    def openness(self) -> int:
        """Return for how long openings are under way, summed: less is tidier."""
        return sum(
            max(step.end for step in placed.values()) - min(step.start for step in placed.values())
            for placed in self.placed
            if placed
        )

    def with_stop(self, stop: Stop) -> Board:
        """Return a board with one more stop and all that is placed on this one."""
        board = Board(Site(self.site.day, self.site.worked, (*self.site.stops, stop)))
        board.hands = self.hands
        board.placed = [*(dict(placed) for placed in self.placed), {}]
        return board

    def _lay_out(
        self, stop: Stop, placed: dict[str, Placed], *, unit: Unit, not_before: int
    ) -> Placement | DeadEnd:
        hands, known, laid = self.hands, dict(placed), list[Placed]()
        for run in unit.runs:
            found = _fit_run(self.site, stop, run=run, hands=hands, known=known, not_before=not_before)
            if isinstance(found, DeadEnd):
                return found
            laid += found
            known.update({step.code: step for step in found})
            busy = Busy(found[0].start, found[-1].end, stop.visit)
            hands = tuple(hand.with_busy(busy) if hand.number in found[0].hands else hand for hand in hands)
            not_before = 0
        return Placement(tuple(laid), hands)


def _fit_run(
    site: Site, stop: Stop, *, run: Run, hands: tuple[Hand, ...], known: dict[str, Placed], not_before: int
) -> list[Placed] | DeadEnd:
    """Return the run's steps at the first time at which enough hands can be there for all of it."""
    release = max([not_before, *_releases(stop, run.steps[0].code, known=known)])
    arrivals = sorted(
        {max(release, moment) for hand in hands for moment in hand.arrivals(site, stop.visit, wanted=release)}
    )
    dead_end = DeadEnd(run.steps[0].code, release)
    tried = -1
    for arrival in arrivals:
        laid = _lay_run(stop, run, known=known, earliest=arrival)
        if isinstance(laid, DeadEnd):
            return laid
        if laid[0].start == tried:
            continue
        tried = laid[0].start
        span = (laid[0].start, laid[-1].end)
        chosen = choose_hands(hands, site, visit=stop.visit, people=run.people, span=span)
        if chosen is not None:
            return [Placed(step.code, step.start, step.end, chosen) for step in laid]
        dead_end = DeadEnd(run.steps[0].code, tried)
    return dead_end


def _lay_run(stop: Stop, run: Run, *, known: dict[str, Placed], earliest: int) -> list[Placed] | DeadEnd:
    """Return the run's steps one after another from `earliest` on, each inside its spans, without hands."""
    laid: list[Placed] = []
    known = dict(known)
    for step in run.steps:
        release = max([earliest, *_releases(stop, step.code, known=known)])
        start = first_fit(stop.spans[step.code], release, minutes=step.minutes)
        if start is None:
            return DeadEnd(step.code, release)
        known[step.code] = Placed(step.code, start, start + step.minutes, ())
        laid.append(known[step.code])
        earliest = start + step.minutes
    return laid


def _releases(stop: Stop, code: str, *, known: dict[str, Placed]) -> Iterator[int]:
    yield from (known[first].end for first in stop.befores[code] if first in known)
    for lag in stop.lags_to[code]:
        if lag.minimum is not None and lag.before in known:
            yield counted_from(lag, known[lag.before]) + lag.minimum


def counted_from(lag: VisitLag, before: Placed) -> int:
    """Return the minute from which a lag is counted."""
    return before.end if lag.kind is LagKind.FINISH_START else before.start


def _lateness(lag: VisitLag, known: dict[str, Placed]) -> int:
    if lag.maximum is None or lag.before not in known or lag.after not in known:
        return 0
    return known[lag.after].start - counted_from(lag, known[lag.before]) - lag.maximum
