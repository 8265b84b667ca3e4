"""What a window schedule said: its openings, what was refused row by row, how its columns were read. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from openings.takeoff.opening import OpeningInput
from projects.problems import Problem


@dataclass(frozen=True, slots=True)
class RowReading:
    """One data row: its cells as the file shows them, and either openings or problems."""

    row: int
    cells: tuple[str, ...]
    openings: tuple[OpeningInput, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def reason(self) -> str:
        """Return all that is wrong with the row and what to do, as one text."""
        return " ".join(
            f"{problem.column}: {problem.problem} {problem.remedy}"
            if problem.column
            else str(problem.problem)
            for problem in self.problems
        )


@dataclass(frozen=True, slots=True)
class ScheduleReading:
    """A window schedule as read. Rows, openings and problems stand in the file's order.

    `refusal` is None, or one of the four words of `limits.py` where the whole file was refused; `problems`
    says why. `header_row` and `headers` are then the row that looks most like a header, to match by hand.
    """

    rows: int = 0
    openings: tuple[OpeningInput, ...] = ()
    problems: tuple[Problem, ...] = ()
    notices: tuple[str, ...] = ()
    headers: tuple[str, ...] = ()
    matched: Mapping[str, str] = field(default_factory=dict)
    unmatched: tuple[str, ...] = ()
    refusal: str | None = None
    sheet: str | None = None
    sheets: tuple[str, ...] = ()
    header_row: int | None = None
    header_cells: tuple[str, ...] = ()
    columns: Mapping[str, int] = field(default_factory=dict)
    row_readings: tuple[RowReading, ...] = ()

    @property
    def bad_rows(self) -> tuple[RowReading, ...]:
        """Return the rows with problems; their cells stand under `header_cells`."""
        return tuple(reading for reading in self.row_readings if reading.problems)

    def as_read(self, reading: RowReading) -> dict[str, str]:
        """Return our column -> what the file shows in it, for one row."""
        return {
            column: reading.cells[index] if index < len(reading.cells) else ""
            for column, index in self.columns.items()
        }
