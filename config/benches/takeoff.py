"""How many openings a second the pure takeoff does on one core."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from statistics import median

from config.benches.figure import Figure
from config.benches.windows import as_csv, houses
from openings.schedule.read import read_schedule
from openings.takeoff.compute import take_off_house
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import DEFAULT

PER_HOUSE, HOUSES = 40, 50
BATCHES = 9
REQUIRED = 20_000

House = Sequence[OpeningInput]


def measure(*, small: bool) -> Iterator[Figure]:
    """Take off batches of 50 houses in which no two openings are alike; the best batch is judged.

    A takeoff is an opening's lines, notices, weight and people. Warm in the judged figure: the program, its
    method files, the common choices. Cold: every size. The garbage collector runs when it likes, and a batch
    is long enough to bear its share. Best and not mean, for what slows a batch down is other programs
    (timeit's documentation of `repeat`); the middle batch is told beside it.
    """
    batches, count = (2, 1) if small else (BATCHES, HOUSES)
    _speed(0, count, take_off)
    new = [_speed(1 + seed, count, take_off) for seed in range(batches)]
    yield Figure("takeoff, sizes never seen", max(new), "openings/s", REQUIRED, at_least=True)
    yield Figure("takeoff, sizes never seen, middle batch", median(new), "openings/s")
    summed = [_speed(1 + batches + seed, count, add_up) for seed in range(batches)]
    yield Figure("takeoff with the house's sum, sizes never seen", max(summed), "openings/s")


def take_off(openings: House) -> None:
    """Take a house off."""
    if take_off_house(openings, DEFAULT).problems:
        raise ValueError("an opening was refused")


def add_up(openings: House) -> None:
    """Take a house off and add up what its openings need."""
    if not take_off_house(openings, DEFAULT).demand:
        raise ValueError("nothing was added up")


def _speed(seed: int, count: int, work: Callable[[House], None]) -> float:
    """Return openings per second of one core over a batch of so many houses, all read before."""
    read = [
        read_schedule(as_csv(rows), filename="bench.csv", specification=DEFAULT).openings
        for rows in houses(count, openings=PER_HOUSE, sizes=PER_HOUSE, seed=seed)
    ]
    start = time.process_time()
    for openings in read:
        work(openings)
    return count * PER_HOUSE / (time.process_time() - start)
