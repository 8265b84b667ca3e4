"""What was refused, where, and what to do about it: the shape every command and import page shares. Pure."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One refusal. `row` is the spreadsheet's row number, `column` our column name; both where they apply."""

    problem: str
    remedy: str
    row: int | None = None
    column: str | None = None
    value: str | None = None

    def as_json(self) -> dict[str, object]:
        """Return the five keys of the published form, in its order."""
        return {
            "row": self.row,
            "column": self.column,
            "value": self.value,
            "problem": self.problem,
            "remedy": self.remedy,
        }
