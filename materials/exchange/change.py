"""What an order changes in the one before it, line by line. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from materials.exchange.order import Line, Order
from projects.quantities.money import Money


class Standing(StrEnum):
    """How a line stands to the order before.

    Source: OASIS code list LineStatusCode-2.0 of the Universal Business Language.
    """

    ADDED = "Added"
    CANCELLED = "Cancelled"
    SAME = "NoStatus"
    REVISED = "Revised"


@dataclass(frozen=True, slots=True)
class LineChange:
    """A line as it is now, with the packs that the order before asked for; a dropped one has 0 packs."""

    line: Line
    was: int
    standing: Standing


def line_changes(order: Order) -> tuple[LineChange, ...]:
    """Return each line of an order that changes another, then those of the other that are dropped.

    A line is the same where material, pack, packs and price are. Without an order before, all are added.
    """
    before = order.before.lines if order.before else ()
    packs, prices = _packs(before), {_key(line): line.price for line in before}
    kept = {_key(line) for line in order.lines}
    dropped: dict[tuple[str, str], Line] = {}
    for line in before:
        if _key(line) not in kept:
            dropped.setdefault(_key(line), line)
    free = max((line.position for line in order.lines), default=0)
    nothing = Money(0, order.total.currency)
    return (
        *(
            LineChange(line, packs[_key(line)], _standing(line, packs[_key(line)], prices.get(_key(line))))
            for line in order.lines
        ),
        *(
            LineChange(
                replace(line, position=free + place, packs=0, total=nothing), packs[key], Standing.CANCELLED
            )
            for place, (key, line) in enumerate(dropped.items(), 1)
        ),
    )


def _standing(line: Line, was: int, price: Money | None) -> Standing:
    if price is None:
        return Standing.ADDED
    return Standing.SAME if (was, price) == (line.packs, line.price) else Standing.REVISED


def _packs(lines: Iterable[Line]) -> Counter[tuple[str, str]]:
    packs: Counter[tuple[str, str]] = Counter()
    for line in lines:
        packs[_key(line)] += line.packs
    return packs


def _key(line: Line) -> tuple[str, str]:
    return line.material, line.pack
