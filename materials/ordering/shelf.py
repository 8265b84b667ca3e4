"""Which strips do the rolls and offcuts on the shelf give? Whole strips, first come first cut. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from materials.ordering.netting import KEEPS


@dataclass(frozen=True, slots=True)
class ShelfRoll:
    """`count` rolls, or offcuts, of one lot, each `length` nanometres long."""

    source: str
    length: int
    count: int
    last_good: date | None = None


@dataclass(frozen=True, slots=True)
class Strips:
    """What one opening has cut, by length in nanometres. `promised`: it was given before and keeps it."""

    reference: str
    needed: date
    pieces: Mapping[int, int]
    promised: bool = False


@dataclass(slots=True)
class _Open:
    """One roll or offcut with what is left of it."""

    length: int
    left: int
    last_good: date

    @property
    def is_whole(self) -> bool:
        return self.left == self.length


def cut_from_shelf(
    needs: Iterable[Strips], rolls: Sequence[ShelfRoll], *, reserve: int, today: date
) -> dict[str, Counter[int]]:
    """Return the strips that each reference gets, what is promised first, then by day, longest first.

    A strip is cut from the shortest rest that holds it and is good on its day. What is not promised leaves
    `reserve` nanometres in rolls that nobody has opened.
    """
    shelf = [
        _Open(roll.length, roll.length, roll.last_good or KEEPS) for roll in rolls for _ in range(roll.count)
    ]
    given: dict[str, Counter[int]] = {}
    for need in sorted(needs, key=lambda need: (not need.promised, need.needed)):
        got = given.setdefault(need.reference, Counter())
        for length in sorted(Counter(need.pieces).elements(), reverse=True):
            kept = 0 if need.promised else reserve
            found = _shortest(shelf, length, day=max(need.needed, today), kept=kept)
            if found is not None:
                found.left -= length
                got[length] += 1
    return given


def _shortest(shelf: Sequence[_Open], length: int, *, day: date, kept: int) -> _Open | None:
    whole = sum(roll.length for roll in shelf if roll.is_whole)
    fitting = [
        roll
        for roll in shelf
        if roll.left >= length
        and roll.last_good >= day
        and (not roll.is_whole or whole - roll.length >= kept)
    ]
    return min(fitting, key=lambda roll: (roll.left, roll.last_good), default=None)
