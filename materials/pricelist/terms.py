"""Price breaks and days off as people type them, a line each. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from projects.errors import BadValue

Break = tuple[int, int]
"""From how many packs on each costs how many cents."""

MOST_PACKS = 100_000
MOST_LINES = 60
_BREAK = re.compile(
    r"(?P<packs>\d{1,6})\s*(?:at|:|=|packs at)\s*\$?\s*(?P<price>\d{1,7}(?:\.\d{1,2})?)", re.I
)


def read_breaks(text: str, *, price: int) -> tuple[Break, ...]:
    """Return the breaks of `12 at 8.50`, fewest packs first; `price` is that of the first pack in cents.

    Raises BadValue at the field `breaks`.
    """
    found: list[Break] = []
    for line in _lines(text, "breaks"):
        match = _BREAK.fullmatch(line)
        if match is None:
            raise _wrong("breaks", line, f"{line!r} is no price break.", "Write each as 12 at 8.50.")
        found.append((int(match["packs"]), int(Decimal(match["price"]) * 100)))
    return check_breaks(found, price=price)


def check_breaks(breaks: Iterable[Break], *, price: int) -> tuple[Break, ...]:
    """Return the breaks, fewest packs first.

    Raises BadValue for a price below nothing, and for a break that repeats or lowers no price.
    """
    if price < 0:
        raise _wrong("price", str(price), "A price can't be below nothing.", "Give what one pack costs.")
    found = tuple(sorted(breaks))
    packs, before = 1, price
    for step, cents in found:
        if not packs < step <= MOST_PACKS:
            problem = f"A break from {step} packs on does not follow one from {packs}."
            raise _wrong("breaks", str(step), problem, "Give each number of packs once, from 2 on.")
        if not 0 <= cents < before:
            problem = f"From {step} packs on the price does not fall."
            raise _wrong("breaks", str(step), problem, "Give breaks that lower the price.")
        packs, before = step, cents
    return found


def write_breaks(breaks: Iterable[Iterable[int]]) -> str:
    """Return breaks as they are typed."""
    return "\n".join(f"{packs} at {cents // 100}.{cents % 100:02d}" for packs, cents in breaks)


def read_days(text: str) -> tuple[date, ...]:
    """Return days written as 2026-07-03, each once, in their order. Raises BadValue at `holidays`."""
    found = set()
    for line in _lines(text, "holidays"):
        try:
            found.add(date.fromisoformat(line))
        except ValueError:
            raise _wrong("holidays", line, f"{line!r} is no day.", "Write each as 2026-07-03.") from None
    return tuple(sorted(found))


def _lines(text: str, field: str) -> list[str]:
    lines = [line.strip() for line in text.replace(";", "\n").replace(",", "\n").splitlines()]
    found = [line for line in lines if line]
    if len(found) > MOST_LINES:
        raise _wrong(field, "", f"These are more than {MOST_LINES} lines.", "Leave out what is past.")
    return found


def _wrong(field: str, value: str, problem: str, remedy: str) -> BadValue:
    return BadValue(problem=problem, remedy=remedy, field=field, value=value)
