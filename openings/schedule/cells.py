"""What one cell of a schedule holds: text, a number's text, or something a spreadsheet spoilt. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

DATE = "date"
FORMULA = "formula"
ERROR = "error"
ERROR_TEXTS = frozenset(
    {"#REF!", "#VALUE!", "#NAME?", "#DIV/0!", "#N/A", "#NULL!", "#NUM!", "#SPILL!", "#CALC!"}
)


class NumberText(str):
    """The text of a number cell: its decimal point is the workbook's, not the writer's."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Spoilt:
    """A cell whose value is not what was typed: a date, a formula without a stored value, an error."""

    shown: str
    why: str


Cell = str | Spoilt
Cells = tuple[Cell, ...]


def text_of(cell: Cell) -> str:
    """Return what a person would see in the cell."""
    return cell if isinstance(cell, str) else cell.shown


def is_blank(cell: Cell) -> bool:
    """Return whether nothing but white space stands in the cell."""
    return isinstance(cell, str) and not cell.strip()


def cell_at(cells: Cells, index: int | None) -> Cell:
    """Return the cell in column `index` (from 0), blank beyond the row's end or where there is no column."""
    return "" if index is None or index >= len(cells) else cells[index]


def trimmed(cells: Sequence[Cell]) -> Cells:
    """Return the cells without the blank ones at the end."""
    end = len(cells)
    while end and is_blank(cells[end - 1]):
        end -= 1
    return tuple(cells[:end])


def number_text(value: float) -> str:
    """Return up to 15 digits, as spreadsheets show; 36.0 is 36."""
    return str(int(value)) if value.is_integer() and abs(value) < 1e15 else f"{value:.15g}"


def moment_text(value: object) -> str:
    """Return a date, time or span as text; a date without its midnight."""
    if isinstance(value, datetime.datetime) and value.time() == datetime.time():
        return value.date().isoformat()
    return str(value)
