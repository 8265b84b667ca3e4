"""Which tables a file holds, told by its content and never by its name. Pure."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from openings.schedule.archive import ZIP_START
from openings.schedule.cells import Cells
from openings.schedule.limits import (
    MAX_BYTES,
    MAX_COLUMNS,
    TOO_LARGE,
    FileRefused,
    too_many_columns,
    unsafe_workbook,
)
from openings.schedule.textfile import delimiter_of, encoding_of, text_rows
from openings.schedule.workbook import sheets_of

_OLD_WORKBOOK = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_EMPTY_ZIP = b"PK\x05\x06"

Rows = Iterator[tuple[int, Cells]]


@dataclass(frozen=True, slots=True)
class Table:
    """One sheet or the whole text file; `rows` yields row numbers and cells anew at each call."""

    name: str | None
    open_rows: Callable[[], Rows]

    def rows(self) -> Rows:
        """Yield row number and cells. Raises FileRefused beyond the column limit, or at a broken part."""
        for number, cells in self.open_rows():
            if len(cells) > MAX_COLUMNS:
                raise too_many_columns(number)
            yield number, cells


@dataclass(frozen=True, slots=True)
class Tables:
    """What a file holds, visible sheets first, and what is worth knowing about how it was opened."""

    tables: tuple[Table, ...]
    notices: tuple[str, ...] = ()


def tables_of(content: bytes, *, known: Callable[[Sequence[str]], int]) -> Tables:
    """Return the file's tables; `known` counts the headers that a row of cells names.

    Raises FileRefused: too large, neither text nor workbook, or not to be read safely.
    """
    if len(content) > MAX_BYTES:
        raise FileRefused(
            kind=TOO_LARGE,
            problem=f"The file has {len(content) / 2**20:.1f} MB.",
            remedy=f"Send up to {MAX_BYTES // 2**20} MB: keep the schedule alone, without pictures.",
        )
    if content.startswith((ZIP_START, _EMPTY_ZIP)):
        return Tables(tuple(Table(sheet.name, sheet.rows) for sheet in sheets_of(content)))
    if content.startswith(_OLD_WORKBOOK):
        # an .xls of old, or a workbook locked with a password: the same container
        raise unsafe_workbook()
    codec = encoding_of(content)
    delimiter = delimiter_of(content, codec=codec, known=known)
    notices: tuple[str, ...] = ()
    if codec == "cp1252":
        notices = ("The text is not UTF-8 and was read as Windows-1252: look at letters such as é, ö, ½.",)
    return Tables((Table(None, lambda: text_rows(content, codec=codec, delimiter=delimiter)),), notices)
