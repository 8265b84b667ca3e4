"""How many openings a second the pure takeoff does on one core."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence

from config.benches.figure import Figure
from config.benches.windows import as_csv, houses
from openings.schedule.read import read_schedule
from openings.takeoff.compute import take_off_house
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import DEFAULT

PER_HOUSE = 40
BATCHES = 8
REQUIRED = 20_000

House = Sequence[OpeningInput]


def measure(*, small: bool) -> Iterator[Figure]:
    """Take off houses in which no two openings are alike; best of several batches, each of new sizes.

    A takeoff is an opening's lines, notices, weight and people. Warm in the judged figure: the program, its
    method files, the common choices. Cold: every size.
    """
    houses_each = 2 if small else 50
    _batch(houses_each, seed=0, work=take_off)
    speeds = [_batch(houses_each, seed=seed, work=take_off) for seed in range(1, BATCHES)]
    yield Figure("takeoff, sizes never seen", max(speeds), "openings/s", REQUIRED, at_least=True)
    speeds = [_batch(houses_each, seed=seed, work=add_up) for seed in range(BATCHES, 2 * BATCHES)]
    yield Figure("takeoff with the house's sum, sizes never seen", max(speeds), "openings/s")
    speeds = [_batch(houses_each, seed=seed, work=take_off, before=take_off) for seed in range(1, BATCHES)]
    yield Figure("takeoff, sizes seen before", max(speeds), "openings/s")


def take_off(openings: House) -> None:
    """Take a house off."""
    if take_off_house(openings, DEFAULT).problems:
        raise ValueError("an opening was refused")


def add_up(openings: House) -> None:
    """Take a house off and add up what its openings need."""
    if not take_off_house(openings, DEFAULT).demand:
        raise ValueError("nothing was added up")


def _batch(
    count: int, *, seed: int, work: Callable[[House], None], before: Callable[[House], None] | None = None
) -> float:
    """Return openings per second of one core over so many houses, each read just before.

    The collector of garbage runs when it likes: its work for the takeoff's many values is the takeoff's.
    """
    seconds = 0.0
    for rows in houses(count, openings=PER_HOUSE, sizes=PER_HOUSE, seed=seed):
        openings = read_schedule(as_csv(rows), filename="bench.csv", specification=DEFAULT).openings
        if before is not None:
            before(openings)
        start = time.process_time()
        work(openings)
        seconds += time.process_time() - start
    return count * PER_HOUSE / seconds
