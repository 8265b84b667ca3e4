"""Days and counts as sentences say them; no query here."""

from __future__ import annotations

from datetime import date


def day_told(day: date) -> str:
    """Return a day as a sentence says it: Mon 30 Nov."""
    return f"{day:%a} {day.day} {day:%b}"


def counted(count: int, thing: str) -> str:
    """Return so many of a thing: 1 opening, 3 openings."""
    return f"{count} {thing}{'' if count == 1 else 's'}"
