"""Window schedules for tests: text, workbooks and zips built on the spot."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import openpyxl

from openings.schedule.limits import NOT_SAFE
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


_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"


def raw_workbook(sheet: str, strings: str) -> bytes:
    """Return a workbook of one sheet from the XML of its rows and of its table of strings, as other programs
    write it: the strings in a table, no styles."""
    overrides = "".join(
        f'<Override PartName="/xl/{part}" ContentType="{_KIND}.{kind}+xml"/>'
        for part, kind in (
            ("workbook.xml", "sheet.main"),
            ("worksheets/sheet1.xml", "worksheet"),
            ("sharedStrings.xml", "sharedStrings"),
        )
    )
    relations = "".join(
        f'<Relationship Id="r{number}" Type="{_OFFICE}/{kind}" Target="{part}"/>'
        for number, (part, kind) in enumerate(
            [("worksheets/sheet1.xml", "worksheet"), ("sharedStrings.xml", "sharedStrings")], start=1
        )
    )
    parts = {
        "[Content_Types].xml": f'<Types xmlns="{_PACKAGE}/content-types">{overrides}</Types>',
        "_rels/.rels": f'<Relationships xmlns="{_PACKAGE}/relationships"><Relationship Id="r1" '
        f'Type="{_OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook xmlns="{_MAIN}" xmlns:r="{_OFFICE}"><sheets>'
        '<sheet name="Raw" sheetId="1" r:id="r1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{_PACKAGE}/relationships">'
        f"{relations}</Relationships>",
        "xl/worksheets/sheet1.xml": f'<worksheet xmlns="{_MAIN}"><sheetData>{sheet}</sheetData></worksheet>',
        "xl/sharedStrings.xml": f'<sst xmlns="{_MAIN}">{strings}</sst>',
    }
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as new:
        for name, part in parts.items():
            new.writestr(name, f'<?xml version="1.0" encoding="UTF-8"?>{part}')
    return written.getvalue()


RAW_STRINGS = "<si><t>mark</t></si><si><t>unit_width</t></si><si><t>unit_height</t></si><si><t>W1</t></si>"
RAW_ROWS = (
    '<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="s"><v>2</v></c></row>'
    '<row r="2"><c r="A2" t="s"><v>3</v></c><c r="B2"><v>36</v></c><c r="C2"><v>60</v></c></row>'
)

SIMPLE_ROWS = [["mark", "unit_width", "unit_height"], ["W1", 36, 60]]


def simple_workbook() -> bytes:
    """Return a workbook with one good opening."""
    return workbook(("Windows", SIMPLE_ROWS))


def sizes(reading: ScheduleReading) -> tuple[str, ...]:
    """Return unit width and height, RO width and height in inches."""
    opening = good(reading)
    lengths = (opening.unit_width, opening.unit_height, opening.ro_width, opening.ro_height)
    return tuple(str(length.exact_inches) for length in lengths)


def assert_not_safe(content: bytes) -> None:
    reading = read(content, filename="schedule.xlsx")

    assert reading.refusal == NOT_SAFE
    assert reading.openings == ()
    (problem,) = reading.problems
    assert problem.problem == "This workbook can't be read safely."
    assert problem.remedy == "Save it again as .xlsx or CSV."
