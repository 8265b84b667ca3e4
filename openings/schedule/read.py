"""What a window schedule says: a CSV or XLSX file becomes openings, or problems row by row. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from openings.schedule.cells import cell_at, text_of
from openings.schedule.collect import Collected, Search, collect, find_header
from openings.schedule.commas import decimal_comma_example
from openings.schedule.files import Rows, Table, Tables, tables_of
from openings.schedule.headers import Layout, known_headers, matches, plain
from openings.schedule.lengths import Reading
from openings.schedule.limits import MAX_OPENINGS, NO_SCHEDULE, FileRefused, too_many_openings
from openings.schedule.notices import UNPLACED_ROWS, layout_notices, remark_notices, skipped_notices
from openings.schedule.reading import RowReading, ScheduleReading
from openings.schedule.row import DataRow, Frame
from openings.schedule.rows import UNPLACED, RowResult, read_row
from openings.schedule.words import LENGTHS, MARK
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import Specification
from projects.errors import BadValue
from projects.problems import Problem

_NO_MATCH: Mapping[str, str] = {}
_WITH_NUMBERS = (*sorted(LENGTHS), "weight_lb", "glass")


def read_schedule(
    content: bytes,
    *,
    filename: str,
    specification: Specification,
    match: Mapping[str, str] = _NO_MATCH,
    sheet: str | None = None,
) -> ScheduleReading:
    """Return the schedule's openings and problems; nothing about a file's content is raised.

    `match` maps the file's headers to our columns (or to ignore), `sheet` names the sheet to read. What the
    file is, its content says; `filename` only stands in refusals.
    """
    try:
        known = matches(match)
        tables = tables_of(content, known=lambda cells: known_headers(cells, known))
        return _read(tables, match=known, specification=specification, sheet=sheet)
    except FileRefused as refused:
        problem = Problem(refused.problem, refused.remedy, row=refused.row, value=filename[:200] or None)
        return ScheduleReading(problems=(problem,), refusal=refused.kind)
    except BadValue as unknown:
        problem = Problem(unknown.problem, unknown.remedy, value=str(unknown.value))
        return ScheduleReading(problems=(problem,), refusal=NO_SCHEDULE)


def _read(
    tables: Tables, *, match: Mapping[str, str], specification: Specification, sheet: str | None
) -> ScheduleReading:
    names = tuple(table.name for table in tables.tables if table.name is not None)
    likeliest = ScheduleReading(sheets=names, notices=tables.notices)
    lacks: tuple[str, ...] = ()
    for table in _chosen(tables, sheet):
        rows = table.rows()
        search = find_header(rows, match)
        if search.layout is None:
            continue
        about = _about(search.layout, table=table, sheets=names, notices=tables.notices)
        if not search.layout.lacks:
            notices = (*about.notices, *_sheet_notices(about, sheet))
            return _read_below(
                rows, search, specification=specification, about=replace(about, notices=notices)
            )
        if likeliest.header_row is None or len(about.matched) > len(likeliest.matched):
            likeliest, lacks = about, search.layout.lacks
    return replace(likeliest, problems=(_no_header(likeliest, lacks),), refusal=NO_SCHEDULE)


def _chosen(tables: Tables, sheet: str | None) -> tuple[Table, ...]:
    if sheet is None or tables.tables[0].name is None:
        return tables.tables
    wanted = sheet.strip().casefold()
    chosen = tuple(table for table in tables.tables if (table.name or "").casefold() == wanted)
    if not chosen:
        names = ", ".join(table.name or "" for table in tables.tables)
        raise FileRefused(
            kind=NO_SCHEDULE,
            problem=f"The workbook has no sheet “{sheet[:60]}”.",
            remedy=f"Choose one of: {names[:200]}.",
        )
    return chosen


def _about(
    layout: Layout, *, table: Table, sheets: tuple[str, ...], notices: tuple[str, ...]
) -> ScheduleReading:
    """Return the reading with all that the header says, and no rows yet."""
    return ScheduleReading(
        notices=notices,
        headers=tuple(header for header in layout.headers if header),
        matched=layout.matched,
        unmatched=layout.unmatched,
        sheet=table.name,
        sheets=sheets,
        header_row=layout.row,
        header_cells=layout.headers,
        columns=layout.columns,
    )


def _sheet_notices(about: ScheduleReading, sheet: str | None) -> list[str]:
    notices = []
    if sheet is not None and about.sheet is None:
        notices.append("A text file has no sheets: the whole file is read.")
    others = [name for name in about.sheets if name != about.sheet]
    if others and sheet is None:
        notices.append(f"Sheet “{about.sheet}” is read; not read: {', '.join(others)}.")
    return notices


def unused_match(reading: ScheduleReading, match: Mapping[str, str]) -> tuple[str, ...]:
    """Return a notice on what was matched by hand though the file has no such header.

    A builder's remembered headers are no reason for one: none of his files has all of them.
    """
    there = {plain(header) for header in reading.header_cells}
    missing = ", ".join(theirs for theirs in match if plain(theirs) not in there)
    return (f"Matched headers that the file has not: {missing}.",) if missing else ()


def _no_header(likeliest: ScheduleReading, lacks: tuple[str, ...]) -> Problem:
    if likeliest.header_row is None:
        return Problem("The file has no rows.", "Send the schedule with its header and its openings.")
    return Problem(
        problem=f"No header is found: row {likeliest.header_row} comes closest, "
        f"but has no {', '.join(lacks)}.",
        remedy="Match its headers to mark, unit_width, unit_height or size.",
        row=likeliest.header_row,
    )


def _read_below(
    rows: Rows, search: Search, *, specification: Specification, about: ScheduleReading
) -> ScheduleReading:
    """Return the rows below the header read, each to openings or to problems."""
    assert search.layout is not None
    if search.layout.doubled:
        return replace(about, problems=search.layout.doubled, refusal=NO_SCHEDULE)
    collected = collect(rows, search)
    frame, notices = _frame(collected, search, specification=specification)
    results = [(row, read_row(row, frame)) for row in collected.rows]
    readings = _row_readings(results)
    if sum(len(reading.openings) for reading in readings) > MAX_OPENINGS:
        raise too_many_openings()
    problems = [problem for reading in readings for problem in reading.problems]
    if not readings:
        problems.append(_no_rows(search.layout.row))
    remarks = [(row.number, remark) for row, result in results for remark in result.remarks]
    remarks += [
        (reading.row, UNPLACED_ROWS)
        for reading in readings
        if reading.openings and reading.openings[0].elevation == UNPLACED
    ]
    return replace(
        about,
        rows=len(readings),
        openings=tuple(opening for reading in readings for opening in reading.openings),
        problems=tuple(problems),
        notices=(
            *about.notices,
            *notices,
            *skipped_notices(collected),
            *remark_notices(remarks, call_size_is=specification.call_size_is),
        ),
        row_readings=readings,
    )


def _frame(collected: Collected, search: Search, *, specification: Specification) -> tuple[Frame, list[str]]:
    """Return how the file's numbers are read, and the notices that say so."""
    layout = search.layout
    assert layout is not None
    columns = [layout.columns[column] for column in _WITH_NUMBERS if column in layout.columns]
    example = decimal_comma_example(cell_at(row.cells, index) for row in collected.rows for index in columns)
    units = {column: search.title_unit for column in LENGTHS if search.title_unit} | dict(layout.units)
    readings = {
        column: Reading(
            unit=units.get(column, ""),
            decimal_comma=bool(example),
            height_first=column in layout.height_first,
        )
        for column in _WITH_NUMBERS
    }
    notices = layout_notices(layout, title_unit=search.title_unit)
    if example:
        notices.append(f"Numbers with a comma are read as decimals, such as “{example[:40]}”.")
    return Frame(layout, specification, readings), notices


def _row_readings(results: Sequence[tuple[DataRow, RowResult]]) -> tuple[RowReading, ...]:
    """Return the rows with their clashes found: a mark belongs to the first row that has it."""
    used: dict[str, int] = {}
    faces: dict[str, str] = {}
    readings = []
    for row, result in results:
        problems = list(result.problems)
        clash = next((mark for mark in result.marks if mark in used), None)
        if clash is not None:
            problems.append(_clash(row, clash, other=used[clash]))
        for mark in result.marks:
            used.setdefault(mark, row.number)
        openings = () if problems else tuple(_on_known_face(opening, faces) for opening in result.openings)
        cells = tuple(text_of(cell) for cell in row.cells)
        readings.append(RowReading(row.number, cells, openings, tuple(problems)))
    return tuple(readings)


def _on_known_face(opening: OpeningInput, faces: dict[str, str]) -> OpeningInput:
    """Return the opening on its elevation as the file first spelt it: NORTH and North are one face."""
    name = faces.setdefault(opening.elevation.casefold(), opening.elevation)
    return opening if name == opening.elevation else replace(opening, elevation=name)


def _clash(row: DataRow, mark: str, *, other: int) -> Problem:
    return Problem(
        problem=f"The mark {mark} is used in row {other} already.",
        remedy="Give every opening of the house its own mark.",
        row=row.number,
        column=MARK,
        value=mark,
    )


def _no_rows(header: int) -> Problem:
    return Problem(
        problem=f"There are no openings below the header in row {header}.",
        remedy="Put one opening, or one count of identical ones, on each row.",
        row=header,
    )
