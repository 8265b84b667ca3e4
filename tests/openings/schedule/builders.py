"""Window schedules for tests: text, workbooks and zips built on the spot."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import openpyxl

from openings.schedule.read import read_schedule
from openings.schedule.reading import ScheduleReading
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import DEFAULT, Specification

SIZED = "mark,unit_width,unit_height"


def read(
    content: str | bytes,
    *,
    specification: Specification = DEFAULT,
    match: Mapping[str, str] | None = None,
    sheet: str | None = None,
    filename: str = "schedule.csv",
) -> ScheduleReading:
    """Return the schedule read; text is sent as UTF-8."""
    sent = content.encode() if isinstance(content, str) else content
    return read_schedule(sent, filename=filename, specification=specification, match=match or {}, sheet=sheet)


def read_row(columns: str, values: str, **options: Any) -> ScheduleReading:
    """Return one row read; mark W1 and 36 x 60 come by themselves, further columns as given."""
    return read(f"{SIZED},{columns}\nW1,36,60,{values}\n", **options)


def good(reading: ScheduleReading) -> OpeningInput:
    """Return the one opening of a reading without problems."""
    assert reading.problems == ()
    (opening,) = reading.openings
    return opening


def refused(reading: ScheduleReading) -> list[tuple[int | None, str | None]]:
    """Return where the problems are: row and column, in order."""
    return [(problem.row, problem.column) for problem in reading.problems]


def workbook(*sheets: tuple[str, Sequence[Sequence[object]]], merges: Iterable[str] = ()) -> bytes:
    """Return an .xlsx with the given sheets; `merges` are of the first."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets:
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    for merge in merges:
        book.worksheets[0].merge_cells(merge)
    return saved(book)


def saved(book: openpyxl.Workbook) -> bytes:
    """Return a workbook's bytes."""
    written = io.BytesIO()
    book.save(written)
    return written.getvalue()


def with_parts(content: bytes, changed: Mapping[str, bytes], *, level: int = 6) -> bytes:
    """Return a workbook with parts replaced or added."""
    written = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(content)) as old,
        zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED, compresslevel=level) as new,
    ):
        for name in old.namelist():
            if name not in changed:
                new.writestr(name, old.read(name))
        for name, part in changed.items():
            new.writestr(name, part)
    return written.getvalue()


def part_of(content: bytes, name: str) -> bytes:
    """Return one part of a workbook."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return archive.read(name)


SIMPLE_ROWS = [["mark", "unit_width", "unit_height"], ["W1", 36, 60]]


def simple_workbook() -> bytes:
    """Return a workbook with one good opening."""
    return workbook(("Windows", SIMPLE_ROWS))
