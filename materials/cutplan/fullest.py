"""How full can one roll get, and with which pieces: a bounded subset sum, exact. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from materials.cutplan.whole import Pattern

LARGEST_TABLE = 1 << 21
"""Rooms above this many steps are filled longest piece first: their table would not fit in memory."""


def reachable(sizes: Sequence[int], counts: Sequence[int], room: int) -> int:
    """Return the sums up to `room` that the pieces can make, as the set bits of one number."""
    sums, mask = 1, (1 << (room + 1)) - 1
    for size, count in zip(sizes, counts, strict=True):
        sums = _with_copies(sums, size, count=count, mask=mask)
    return sums


def fullest_sum(sums: int, room: int) -> int:
    """Return the largest sum of `reachable` that fits in `room`."""
    return (sums & ((1 << (room + 1)) - 1)).bit_length() - 1


def fullest_pattern(
    sizes: Sequence[int], counts: Sequence[int], room: int, *, order: Sequence[int] | None = None
) -> Pattern:
    """Return pieces that fill `room` as far as it goes, in `order`, else the given one."""
    if room > LARGEST_TABLE:
        return longest_first_pattern(sizes, counts, room)
    mask = (1 << (room + 1)) - 1
    useful = [i for i in order or range(len(sizes)) if counts[i] and sizes[i] <= room]
    tables = [1]
    for index in reversed(useful):
        tables.append(_with_copies(tables[-1], sizes[index], count=counts[index], mask=mask))
    target = tables.pop().bit_length() - 1
    pattern = []
    for index in useful:
        rest = tables.pop()
        size = sizes[index]
        taken = min(counts[index], target // size)
        while not rest >> (target - taken * size) & 1:
            taken -= 1
        if taken:
            pattern.append((index, taken))
            target -= taken * size
    return tuple(sorted(pattern))


def balanced_pattern(sizes: Sequence[int], counts: Sequence[int], room: int) -> Pattern:
    """Return pieces that fill `room` as far as it goes, of the sizes first that most is left of.

    What remains stays mixed, so that the next rolls can be filled as well.
    """
    return fullest_pattern(sizes, counts, room, order=plenty_first(sizes, counts))


def plenty_first(sizes: Sequence[int], counts: Sequence[int]) -> list[int]:
    """Return the sizes' indices: those first that most is left of, long ones before short ones."""
    return sorted(range(len(sizes)), key=lambda index: -counts[index] * sizes[index] ** 2)


def anchored_pattern(sizes: Sequence[int], counts: Sequence[int], room: int) -> Pattern:
    """Return the fullest pattern among those that hold the longest piece that fits."""
    anchor = next((i for i in range(len(sizes)) if counts[i] and sizes[i] <= room), None)
    if anchor is None:
        return ()
    others = [count - (index == anchor) for index, count in enumerate(counts)]
    pattern = dict(fullest_pattern(sizes, others, room - sizes[anchor]))
    pattern[anchor] = pattern.get(anchor, 0) + 1
    return tuple(sorted(pattern.items()))


def longest_first_pattern(sizes: Sequence[int], counts: Sequence[int], room: int) -> Pattern:
    """Return what fits when each size in turn, longest first, is put in as often as it goes."""
    pattern = []
    for index, (size, count) in enumerate(zip(sizes, counts, strict=True)):
        taken = min(count, room // size)
        if taken:
            pattern.append((index, taken))
            room -= taken * size
    return tuple(pattern)


def _with_copies(sums: int, size: int, *, count: int, mask: int) -> int:
    """Return `sums` with up to `count` more pieces of `size`: 1, 2, 4 ... copies at a time."""
    left, copies = min(count, mask.bit_length() // size), 1
    while left > 0:
        taken = min(copies, left)
        sums |= (sums << (size * taken)) & mask
        left -= taken
        copies *= 2
    return sums
