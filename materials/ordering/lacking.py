"""What an opening lacks of a material once part of it was ordered. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Amount:
    """So much of one material, in its base unit.

    `pieces` count what is cut by length in nanometres; where there are any, their sum is `quantity`.
    """

    quantity: int = 0
    pieces: Mapping[int, int] = field(default_factory=dict)

    @classmethod
    def cut(cls, pieces: Mapping[int, int]) -> Amount:
        """Return the amount that these pieces come to."""
        return cls(sum(length * count for length, count in pieces.items()), dict(pieces))


NOTHING = Amount()


def total(amounts: Iterable[Amount]) -> Amount:
    """Return the amounts together."""
    quantity, pieces = 0, Counter[int]()
    for amount in amounts:
        quantity += amount.quantity
        pieces.update(amount.pieces)
    return Amount(quantity, dict(pieces))


def lacking(needed: Amount, had: Amount) -> Amount:
    """Return what to get beside `had`.

    A piece serves for one as long or shorter; what was cut too short does not grow, so the longer piece is
    lacking whole.
    """
    if not needed.pieces:
        return Amount(max(0, needed.quantity - had.quantity))
    there = sorted(Counter(had.pieces).elements())
    missing: Counter[int] = Counter()
    # longest first, each from the shortest that is long enough: no choice leaves less to cut
    for length in sorted(Counter(needed.pieces).elements(), reverse=True):
        found = next((place for place, one in enumerate(there) if one >= length), None)
        if found is None:
            missing[length] += 1
        else:
            there.pop(found)
    return Amount.cut(missing)
