"""The list scheduler of a crew's day: units are placed by rank, each where it fits first. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from crews.dayplan.crew_day.board import Board, DeadEnd
from crews.dayplan.crew_day.site import Site

# A unit's rank by stop number and unit number: the smallest that is ready is placed next.
Ranks = Mapping[tuple[int, int], int]
QUICK_MINUTES_PER_OPENING = (60, 30, 10)
MINUTES_PER_OPENING = (1000, 150, 100, 80, 60, 50, 40, 35, 30, 25, 20, 15, 10, 5, 1)


@dataclass(frozen=True, slots=True)
class Blocked:
    """Why a dispatch gave up: the stop, and the step that fits nowhere."""

    place: int
    dead_end: DeadEnd


def dispatch(site: Site, ranks: Ranks) -> Board | Blocked:
    """Return the board on which all stops are done, or what could not be placed."""
    board = Board(site)
    blocked = fill(board, ranks)
    return board if blocked is None else blocked


def fill(board: Board, ranks: Ranks) -> Blocked | None:
    """Place every unit of `ranks` on `board`; return what could not be placed, None where all was."""
    site, left = board.site, set(ranks)
    while left:
        ready = (
            unit for unit in left if site.stops[unit[0]].forerunners[unit[1]] <= board.placed[unit[0]].keys()
        )
        place, number = min(ready, key=lambda unit: (ranks[unit], unit))
        found = board.fit(place, site.stops[place].units[number])
        if isinstance(found, DeadEnd):
            return Blocked(place, found)
        board.place(place, found)
        left.remove((place, number))
    return None


def rankings(site: Site, steps: Sequence[int] = MINUTES_PER_OPENING) -> Iterator[Ranks]:
    """Yield the orders that are tried, one for each of `steps`, those along the wall first.

    Each opening further along costs a step of minutes against what must still follow a unit: with a large
    step openings are done one after another, with a small one the units that much hangs on come first, and
    short ends such as an inside seal fill the gaps.
    """
    for minutes in steps:
        yield {
            (place, number): place * minutes - max(stop.tails[step.code] for step in unit.runs[0].steps)
            for place, stop in enumerate(site.stops)
            for number, unit in enumerate(stop.units)
        }
