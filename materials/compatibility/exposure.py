"""How long a membrane may lie open to sun and rain, and by when it must be covered. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from openings.methods.method import Grade

LONGEST_LIMIT = 730
MONTHS = 12


@dataclass(frozen=True, slots=True)
class Limit:
    """So many days, of which material, and who says so."""

    days: int
    material: str
    grade: Grade
    source: str

    @property
    def told(self) -> str:
        """Return of what it is, its grade and its source, as lists say it."""
        return f"{self.material}: {self.grade}, {self.source}"


def usual_limit(material: str) -> Limit:
    """Return what holds where no sheet says otherwise.

    30 days is the shortest that sheets of self-adhered membranes use to give: common practice, no source.
    """
    return Limit(30, material, "C", "common practice, no source")


def shortest(limits: Iterable[Limit]) -> Limit:
    """Return the limit that ends first; of equal ones the one that is named first."""
    return min(limits, key=lambda limit: limit.days)


def cover_by(last_day: date, limit: Limit) -> date:
    """Return the last day on which the membrane may still be covered: last membrane day and the limit.

    Source: field guide 8, "cover-by date = last membrane day + the sheet's exposure limit".
    """
    return last_day + timedelta(days=limit.days)


def day_printed(day: date) -> str:
    """Return a sheet's date as lists say it: 3 Mar 2026."""
    return f"{day.day} {day:%b %Y}"


def months_before(day: date, months: int) -> date:
    """Return the same day so many months before, the month's last day where it has no such day."""
    year, month = divmod(day.year * MONTHS + day.month - 1 - months, MONTHS)
    following = date(year + (month + 1) // MONTHS, (month + 1) % MONTHS + 1, 1)
    last = (following - timedelta(days=1)).day
    return date(year, month + 1, min(day.day, last))
