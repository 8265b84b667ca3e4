"""Which sheets and rows an .xlsx workbook holds: stored values only, nothing calculated or fetched. Pure."""

from __future__ import annotations

import io
import re
import warnings
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import Any

import openpyxl
from openpyxl.utils.datetime import from_excel

from openings.schedule.archive import safe_parts
from openings.schedule.cells import (
    DATE,
    Cell,
    Cells,
    NumberText,
    Spoilt,
    cell_at,
    is_blank,
    moment_text,
    number_text,
)
from openings.schedule.limits import unsafe_workbook
from openings.schedule.sheetxml import merged_downwards, rows_of, strings_of

# without it openpyxl expands entities; an installation that lacks it must not read a single workbook
if not openpyxl.DEFUSEDXML:
    raise ImportError("defusedxml is not installed: no workbook is read without it")

_SHEET_ROOT = re.compile(rb"<(?:\w{1,20}:)?worksheet[\s>]")
_STRINGS_ROOT = re.compile(rb"<(?:\w{1,20}:)?sst[\s>]")
_ROOT_WITHIN = 4096
_NAMESPACE = b'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
_EMPTY_SHEET = b"<worksheet " + _NAMESPACE + b"><sheetData/></worksheet>"
_EMPTY_STRINGS = b"<sst " + _NAMESPACE + b"/>"
_LONGEST_FORMAT = 255
_SHOWN_UNIT = re.compile(r"[0#?]\s*(?P<unit>mm|cm|m|inch|inches|in|ft|lbs?|kg|')\.?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Sheet:
    """One worksheet of a checked workbook; its rows are read on demand."""

    name: str
    source: bytes
    strings: list[str]
    workbook: Any

    def rows(self) -> Iterator[tuple[int, Cells]]:
        """Yield row number and cells, a cell merged downwards repeated in the rows it covers.

        Raises FileRefused where the sheet is broken or beyond the limits.
        """
        merged = merged_downwards(self.source)
        tops = {(top, column) for covered in merged.values() for column, top in covered.items()}
        kept: dict[tuple[int, int], Cell] = {}
        read_number = partial(_number, workbook=self.workbook)
        for number, cells in rows_of(self.source, strings=self.strings, read_number=read_number):
            if tops:
                kept |= {(number, at): cell for at, cell in enumerate(cells) if (number, at) in tops}
            yield number, _filled(cells, merged[number], kept=kept) if number in merged else cells


def sheets_of(content: bytes) -> list[Sheet]:
    """Return the workbook's worksheets, visible ones first. Raises FileRefused at an unsafe file."""
    parts = safe_parts(content)
    sheets = {name for name, part in parts.items() if _SHEET_ROOT.search(part, 0, _ROOT_WITHIN)}
    tables = {name for name, part in parts.items() if _STRINGS_ROOT.search(part, 0, _ROOT_WITHIN)}
    workbook = _opened(
        parts | dict.fromkeys(sheets, _EMPTY_SHEET) | dict.fromkeys(tables, _EMPTY_STRINGS),
    )
    strings = [text for name in sorted(tables) for text in strings_of(parts[name])]
    worksheets = sorted(workbook.worksheets, key=lambda worksheet: worksheet.sheet_state != "visible")
    return [
        Sheet(worksheet.title, parts[worksheet._worksheet_path], strings, workbook)
        for worksheet in worksheets
    ]


def _opened(parts: Mapping[str, bytes]) -> Any:
    """Return the workbook without its cells: sheets' names, dates' epoch, styles.

    The cells are read by `sheetxml`, many times faster than by the library.
    """
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_STORED) as small:
        for name, part in parts.items():
            small.writestr(name, part)
    archive.seek(0)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            return openpyxl.load_workbook(archive, read_only=True, data_only=True, keep_links=False)
        except Exception as error:
            # the library raises whatever its parts raise on a broken part
            raise unsafe_workbook() from error


def _number(text: str, style: int, *, workbook: Any) -> Cell:
    """Return a number's cell: a date where its style shows one, else its text with the unit it shows."""
    if not text.isascii():
        raise unsafe_workbook()
    value = float(text)
    if style in workbook._date_formats:
        return Spoilt(_date_text(value, style, workbook=workbook), DATE)
    read = number_text(value)
    unit = _unit_of_style(workbook, style)
    return f"{read} {unit}" if unit else NumberText(read)


def _date_text(value: float, style: int, *, workbook: Any) -> str:
    try:
        return moment_text(from_excel(value, workbook.epoch, timedelta=style in workbook._timedelta_formats))
    except (OverflowError, ValueError):
        return number_text(value)


def _unit_of_style(workbook: Any, style: int) -> str:
    """Return the unit that a style shows behind its numbers: 914 as `0" mm"` says 914 mm."""
    if not style or style >= len(workbook._cell_styles):
        return ""
    own = workbook._cell_styles[style].numFmtId - openpyxl.styles.numbers.BUILTIN_FORMATS_MAX_SIZE
    return (
        shown_unit(workbook._number_formats[own][:_LONGEST_FORMAT])
        if 0 <= own < len(workbook._number_formats)
        else ""
    )


@lru_cache(maxsize=512)
def shown_unit(number_format: str) -> str:
    """Return the unit in which a number format ends, empty where it shows none."""
    shown = number_format.split(";", 1)[0].replace("\\", "").replace('"', "").strip()
    found = _SHOWN_UNIT.search(shown)
    return found["unit"].lower() if found and found.end() == len(shown) else ""


def _filled(cells: Cells, covered: Mapping[int, int], *, kept: Mapping[tuple[int, int], Cell]) -> Cells:
    """Return the row with what the cells merged down from above say; an empty row stays empty."""
    if not cells:
        return cells
    row = list(cells)
    for column, top in covered.items():
        cell = kept.get((top, column), "")
        if not is_blank(cell) and is_blank(cell_at(cells, column)):
            row.extend([""] * (column + 1 - len(row)))
            row[column] = cell
    return tuple(row)
