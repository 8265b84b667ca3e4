"""Row numbers in addresses: positive, and small enough for both databases."""

from __future__ import annotations


class RowConverter:
    """`<row:house>`: what no table can number is no address, so it is a plain 404."""

    regex = "[1-9][0-9]{0,17}"

    def to_python(self, value: str) -> int:
        """Return the primary key."""
        return int(value)

    def to_url(self, value: int) -> str:
        """Return the primary key as it stands in the address."""
        return str(value)
