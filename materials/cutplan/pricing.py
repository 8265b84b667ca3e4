"""Which pattern is worth most when every size has a weight: a bounded knapsack, exact. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from materials.cutplan.whole import Pattern

if TYPE_CHECKING:
    import numpy as np

    Values = np.ndarray[tuple[int], np.dtype[np.int64]]
    Marks = np.ndarray[tuple[int], np.dtype[np.bool_]]

MOST_CELLS = 1 << 26
"""A table of more marks than this would not fit in memory."""


class _Step(NamedTuple):
    """So many copies of one size offered at once: by room, whether taking them was worth it."""

    size: int
    copies: int
    width: int
    is_better: Marks


class PriceTable:
    """The most that pieces in one roll can be worth, for every room up to `room` at once.

    Weights are whole numbers of at least 0; no more pieces are used than `counts` has.
    """

    def __init__(
        self, sizes: Sequence[int], counts: Sequence[int], *, weights: Sequence[int], rooms: Sequence[int]
    ) -> None:
        self.rooms = rooms
        self.values = no_values(max(rooms))
        self.steps: list[_Step] = []
        self.with_step: list[tuple[int, ...]] = []
        for index in range(len(sizes) - 1, -1, -1):
            if weights[index] > 0:
                self._offer(index, sizes[index], count=counts[index], weight=weights[index])

    def _offer(self, index: int, size: int, *, count: int, weight: int) -> None:
        longest = max(self.rooms)
        for copies in in_copies(min(count, longest // size)):
            width = copies * size
            offered = self.values[: longest + 1 - width] + copies * weight
            self.steps.append(_Step(index, copies, width, offered > self.values[width:]))
            self.with_step.append(
                tuple(int(offered[room - width]) if room >= width else -1 for room in self.rooms)
            )
            _raise_to(self.values, offered)

    def worth(self, room: int) -> int:
        """Return the most that pieces in `room` can be worth."""
        return int(self.values[room])

    def best_patterns(self, floors: Sequence[int], *, most: int) -> Iterator[tuple[int, Pattern]]:
        """Yield (which room, pattern) pairs worth more than the room's floor, best first, at most `most`.

        Each is the best that has a certain size as its longest: one table gives many different patterns.
        """
        gains = [
            (worths[which] - floor, -step, which)
            for step, worths in enumerate(self.with_step)
            for which, floor in enumerate(floors)
            if worths[which] > floor
        ]
        for _, step, which in sorted(gains, reverse=True)[:most]:
            yield which, self._pattern(-step, self.rooms[which])

    def _pattern(self, last: int, room: int) -> Pattern:
        """Return the best pattern of `room` that uses step `last` and none after it."""
        pieces: dict[int, int] = {}
        for number in range(last, -1, -1):
            index, copies, width, is_better = self.steps[number]
            if number == last or (room >= width and is_better[room - width]):
                pieces[index] = pieces.get(index, 0) + copies
                room -= width
        return tuple(sorted(pieces.items()))


def is_too_large(sizes: Sequence[int], counts: Sequence[int], room: int) -> bool:
    """Return whether a price table of `room` would not fit in memory."""
    steps = sum(min(count, room // size).bit_length() for size, count in zip(sizes, counts, strict=True))
    return steps * (room + 1) > MOST_CELLS


def no_values(room: int) -> Values:
    """Return the table of a roll without pieces: worth nothing whatever its room."""
    import numpy as np

    return np.zeros(room + 1, dtype=np.int64)


def raised(values: Values, size: int, *, count: int, weight: int) -> Values:
    """Return the table once up to `count` pieces of `size` are on offer too."""
    values = values.copy()
    for copies in in_copies(min(count, (len(values) - 1) // size)):
        _raise_to(values, values[: len(values) - copies * size] + copies * weight)
    return values


def in_copies(count: int) -> Iterator[int]:
    """Yield 1, 2, 4 ... and a rest: together every number up to `count`, and no more."""
    copies = 1
    while count > 0:
        yield min(copies, count)
        count -= copies
        copies *= 2


def _raise_to(values: Values, offered: Values) -> None:
    import numpy as np

    np.maximum(values[len(values) - len(offered) :], offered, out=values[len(values) - len(offered) :])
