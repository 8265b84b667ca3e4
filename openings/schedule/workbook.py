"""Which sheets and rows an .xlsx workbook holds: stored values only, nothing calculated or fetched. Pure."""

from __future__ import annotations

import re
import warnings
import zipfile
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from typing import Any

import openpyxl
from openpyxl.utils.cell import coordinate_to_tuple, range_boundaries

from openings.schedule.archive import safe_copy
from openings.schedule.cells import FORMULA, Cell, Cells, NumberText, Spoilt, is_blank, trimmed, workbook_cell
from openings.schedule.limits import LAST_SHEET_ROW, too_many_rows, unsafe_workbook

# without it openpyxl expands entities; an installation that lacks it must not read a single workbook
assert openpyxl.DEFUSEDXML, "defusedxml is not installed"

_MOST_MERGED_CELLS = 50_000
# both look at the sheet's bytes; every repeat is bounded, so that broken XML cannot make them slow
_MERGE = re.compile(
    rb"<(?:\w{1,20}:)?mergeCell\s[^<>]{0,80}?ref=\"([A-Z]{1,3}[0-9]{1,7}:[A-Z]{1,3}[0-9]{1,7})\""
)
_FORMULA_WITHOUT_VALUE = re.compile(
    rb"<(?:\w{1,20}:)?c\s[^<>]{0,80}?r=\"([A-Z]{1,3}[0-9]{1,7})\"[^<>]{0,80}>\s{0,20}"
    rb"<(?:\w{1,20}:)?f(?:\s[^<>]{0,200})?(?:/>|>[^<]{0,8192}</(?:\w{1,20}:)?f>)\s{0,20}"
    rb"(?:<(?:\w{1,20}:)?v\s?(?:/>|></(?:\w{1,20}:)?v>)\s{0,20})?</(?:\w{1,20}:)?c>"
)
_SHOWN_UNIT = re.compile(r"[0#?]\s*(?P<unit>mm|cm|m|inch|inches|in|ft|lbs?|kg|')\.?", re.IGNORECASE)

Origins = Mapping[tuple[int, int], tuple[int, int]]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One worksheet of a checked workbook; its rows are read on demand."""

    name: str
    worksheet: Any
    workbook: BytesIO

    def rows(self) -> Iterator[tuple[int, Cells]]:
        """Yield row number and cells, a cell merged downwards repeated in the rows it covers.

        Raises FileRefused where the sheet is broken or ends beyond the last row a spreadsheet has.
        """
        origins, lost = self._merges_and_losses()
        tops = frozenset(origins.values())
        kept: dict[tuple[int, int], Cell] = {}
        for number, read in _numbered(self.worksheet):
            cells = _with_losses(read, lost[number]) if number in lost else read
            for column, cell in enumerate(cells) if tops else ():
                if (number, column) in tops:
                    kept[number, column] = cell
            yield number, _filled(cells, number=number, origins=origins, kept=kept) if kept else cells

    def _merges_and_losses(self) -> tuple[Origins, Mapping[int, list[int]]]:
        """Return what the row reader does not tell: covered cell -> merged cell, row -> formulas unvalued."""
        with zipfile.ZipFile(self.workbook) as archive:
            source = archive.read(self.worksheet._worksheet_path)
        origins: dict[tuple[int, int], tuple[int, int]] = {}
        for found in _MERGE.finditer(source):
            left, top, _, bottom = range_boundaries(found[1].decode())
            for row in range(top + 1, min(bottom, top + _MOST_MERGED_CELLS - len(origins)) + 1):
                origins[row, left - 1] = (top, left - 1)
        lost: dict[int, list[int]] = defaultdict(list)
        for found in _FORMULA_WITHOUT_VALUE.finditer(source):
            row, column = coordinate_to_tuple(found[1].decode())
            lost[row].append(column - 1)
        return origins, dict(lost)


def sheets_of(content: bytes) -> list[Sheet]:
    """Return the workbook's worksheets, visible ones first. Raises FileRefused at an unsafe file."""
    copy = safe_copy(content)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            workbook = openpyxl.load_workbook(copy, read_only=True, data_only=True, keep_links=False)
            worksheets = sorted(workbook.worksheets, key=lambda worksheet: worksheet.sheet_state != "visible")
        except Exception as error:
            # the library raises whatever its parts raise on a broken part
            raise unsafe_workbook() from error
    for worksheet in worksheets:
        # the size that a sheet states may be smaller than the sheet
        worksheet.reset_dimensions()
    return [Sheet(worksheet.title, worksheet, copy) for worksheet in worksheets]


def _numbered(worksheet: Any) -> Iterator[tuple[int, Cells]]:
    shows_units = any(_shown_unit(shown) for shown in worksheet.parent._number_formats)
    read: Callable[[Any], Cell] = _with_shown_unit if shows_units else workbook_cell
    rows = iter(worksheet.iter_rows(values_only=not shows_units))
    number = 0
    while True:
        try:
            values = next(rows)
        except StopIteration:
            return
        except Exception as error:
            raise unsafe_workbook() from error
        number += 1
        if number > LAST_SHEET_ROW:
            raise too_many_rows()
        yield number, trimmed([read(value) for value in values])


def _with_shown_unit(cell: Any) -> Cell:
    """Return the cell, a number with the unit that its format shows: 914 as `0" mm"` says 914 mm."""
    read = workbook_cell(cell.value)
    unit = _shown_unit(cell.number_format) if isinstance(read, NumberText) else ""
    return f"{read} {unit}" if unit else read


@lru_cache(maxsize=512)
def _shown_unit(number_format: str | None) -> str:
    shown = (number_format or "").split(";")[0].replace("\\", "").replace('"', "").strip()
    found = _SHOWN_UNIT.search(shown)
    return found["unit"].lower() if found and found.end() == len(shown) else ""


def _with_losses(cells: Cells, columns: list[int]) -> Cells:
    row: list[Cell] = [*cells, *[""] * (max(columns) + 1 - len(cells))]
    for column in columns:
        row[column] = Spoilt("", FORMULA)
    return tuple(row)


def _filled(cells: Cells, *, number: int, origins: Origins, kept: Mapping[tuple[int, int], Cell]) -> Cells:
    """Return the row with what the cells merged down from above say; an empty row stays empty."""
    if not any(not is_blank(cell) for cell in cells):
        return cells
    row = list(cells)
    for column, cell in enumerate(row):
        origin = origins.get((number, column))
        if origin is not None and origin in kept and is_blank(cell):
            row[column] = kept[origin]
    return tuple(row)
