"""One data row under its header: its cells by our column names, and what was refused in it so far. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from openings.schedule.cells import Cell, Cells, cell_at, is_blank, text_of
from openings.schedule.headers import Layout
from openings.schedule.lengths import Reading
from openings.takeoff.specification import Specification
from projects.errors import BadValue
from projects.problems import Problem

_NOTHING = frozenset({"-", "--", "–", "—", "n/a", "N/A"})
_WHERE_NOTHING_SPEAKS = frozenset({"mark", "fin", "note"})
_LONGEST_VALUE = 200
_PLAIN = Reading()
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Frame:
    """What holds for every row of a file."""

    layout: Layout
    specification: Specification
    readings: Mapping[str, Reading] = field(default_factory=dict)

    def reading(self, column: str) -> Reading:
        """Return how the numbers of a column are read."""
        return self.readings.get(column, _PLAIN)


@dataclass(frozen=True, slots=True)
class DataRow:
    """A row that should be an opening, the face its heading names, the heading of doors above it."""

    number: int
    cells: Cells
    face: str = ""
    doors: str = ""


@dataclass(slots=True)
class Row:
    """A row being read. `remarks` are keys of notices that are told once for all rows."""

    source: DataRow
    frame: Frame
    problems: list[Problem] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    def cell(self, column: str) -> Cell:
        """Return the cell of our column, blank where the file has no such column."""
        return cell_at(self.source.cells, self.frame.layout.columns.get(column))

    def states(self, column: str) -> bool:
        """Return whether the cell says anything; a dash is nothing, except where it could mean none."""
        if column not in self.frame.layout.columns:
            return False
        cell = self.cell(column)
        if is_blank(cell):
            return False
        return column in _WHERE_NOTHING_SPEAKS or text_of(cell).strip() not in _NOTHING

    def take(self, column: str, read: Callable[[Cell], T]) -> T | None:
        """Return what `read` makes of the cell; None where it says nothing or is refused."""
        return self.attempt(column, read) if self.states(column) else None

    def attempt(self, column: str, read: Callable[[Cell], T]) -> T | None:
        """Return what `read` makes of the cell, blank or not; None where it is refused."""
        try:
            return read(self.cell(column))
        except BadValue as refused:
            self.refuse(column, refused)
            return None

    def refuse(self, column: str, refused: BadValue, *, value: str | None = None) -> None:
        """Keep a refusal as this row's problem, with `value` or else the whole cell as the file shows it."""
        shown = text_of(self.cell(column)).strip(" ") if value is None else value
        shown = shown if len(shown) <= _LONGEST_VALUE else shown[:_LONGEST_VALUE] + "…"
        self.problems.append(
            Problem(
                problem=refused.problem,
                remedy=refused.remedy,
                row=self.source.number,
                column=column,
                value=shown or None,
            )
        )
