"""What a price list would change: each price beside the one that holds on its day. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from materials.pricelist.read import ListedPrice
from materials.pricelist.terms import Break

Told = tuple[int, tuple[Break, ...]]
"""What a pack costs in cents, and its breaks."""
Standing = Literal["new", "changed", "same"]


@dataclass(frozen=True, slots=True)
class Compared:
    """One listed price from `day` on.

    `before` is what the pack costs by then, with its breaks; None where it is new.
    """

    listed: ListedPrice
    day: date
    before: Told | None

    @property
    def standing(self) -> Standing:
        """Return what loading it would do."""
        if self.before is None:
            return "new"
        return "same" if self.before == (self.listed.cents, self.listed.breaks) else "changed"


Known = Mapping[tuple[str, str], Sequence[tuple[date, Told]]]
"""By material and pack: from which day on it costs so much."""


def compare(listed: Sequence[ListedPrice], known: Known, *, otherwise: date) -> tuple[Compared, ...]:
    """Return each price beside what holds on its day; `otherwise` is the day of those that name none."""
    found = []
    for price in listed:
        day = price.valid_from or otherwise
        held = [(since, told) for since, told in known.get((price.material, price.pack), ()) if since <= day]
        found.append(Compared(price, day, max(held)[1] if held else None))
    return tuple(found)
