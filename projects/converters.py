"""Row numbers and days in addresses: what no table can number and no calendar has is no address."""

from __future__ import annotations

from datetime import date


class RowConverter:
    """`<row:house>`: what no table can number is no address, so it is a plain 404."""

    regex = "[1-9][0-9]{0,17}"

    def to_python(self, value: str) -> int:
        """Return the primary key."""
        return int(value)

    def to_url(self, value: int) -> str:
        """Return the primary key as it stands in the address."""
        return str(value)


class DayConverter:
    """`<day:day>`: a day as 2026-06-08; what is no day is a plain 404."""

    regex = "[0-9]{4}-[0-9]{2}-[0-9]{2}"

    def to_python(self, value: str) -> date:
        """Return the day. Django turns the ValueError of a day that is none into a 404."""
        return date.fromisoformat(value)

    def to_url(self, value: date | str) -> str:
        """Return the day as it stands in the address."""
        return value if isinstance(value, str) else value.isoformat()
