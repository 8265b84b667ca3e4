"""The numbers of orders: `2026-004`, and `2026-004-1` for the first that changes it. Pure."""

from __future__ import annotations

import re
from dataclasses import dataclass

_NUMBER = re.compile(r"(?P<year>\d{4})-(?P<count>\d{3,})(?:-(?P<step>[1-9]\d*))?")


@dataclass(frozen=True, slots=True)
class OrderNumber:
    """An order's number: the year, its count within the year, and how often it was changed."""

    year: int
    count: int
    step: int = 0

    def __str__(self) -> str:
        """Return the number as people write it."""
        return f"{self.year}-{self.count:03d}" + (f"-{self.step}" if self.step else "")


def read_number(text: str) -> OrderNumber | None:
    """Return what the text says, None where it is no number of ours."""
    match = _NUMBER.fullmatch(text)
    if match is None:
        return None
    return OrderNumber(int(match["year"]), int(match["count"]), int(match["step"] or 0))


def step_of(text: str) -> int:
    """Return how often an order with this number was changed, 0 for no number of ours."""
    number = read_number(text)
    return number.step if number else 0


def next_step(text: str) -> str:
    """Return the number of the order that changes the one with this number."""
    number = read_number(text)
    return str(OrderNumber(number.year, number.count, number.step + 1)) if number else f"{text}-1"
