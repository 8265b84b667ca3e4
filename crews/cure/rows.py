"""What a forecast file says: its text becomes hours, or row-level problems with what to do. Pure."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass, field
from datetime import datetime

from crews.cure.air import Air
from crews.cure.forecast import Forecast, Hour
from projects.errors import BadValue
from projects.problems import Problem

COLUMNS = ("time", "temp_c", "rh")
MOST_ROWS = 100_000
_NUMBER = re.compile(r"[+-]?(?:[0-9]{1,15}(?:\.[0-9]{0,30})?|\.[0-9]{1,30})(?:[eE][+-]?[0-9]{1,2})?")
_ROW_REMEDY = "Write the row as 2026-03-02T07:00,8.5,60."


@dataclass(frozen=True, slots=True)
class ForecastReading:
    """A file's forecast, None where a row was refused; the problems carry the spreadsheet's row numbers.

    `times` are the rows' times as the file writes them, in the forecast's order.
    """

    forecast: Forecast | None
    times: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    notices: tuple[str, ...] = ()


@dataclass(slots=True)
class _Findings:
    hours: list[Hour] = field(default_factory=list)
    times: list[str] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def read_forecast(text: str) -> ForecastReading:
    """Return the forecast of a CSV with the columns time, temp_c and rh, in any order and case.

    Other columns are ignored with a notice, empty rows skipped. Every bad row is reported; one is enough to
    have no forecast.
    """
    try:
        rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"))))
    except csv.Error:
        return _refused(Problem("The forecast is not a table of commas and rows.", "Save it as CSV."))
    header = [_plain(cell) for cell in rows[0]] if rows else []
    missing = [column for column in COLUMNS if header.count(column) != 1]
    if missing:
        return _refused(
            Problem(
                f"The forecast's first row does not name {' and '.join(missing)} once.",
                "Head the columns time,temp_c,rh.",
                row=1,
            )
        )
    if len(rows) > MOST_ROWS:
        return _refused(
            Problem(f"The forecast has more than {MOST_ROWS:,} rows.", "Cut it to the weeks you need.")
        )
    findings = _Findings()
    places = {column: header.index(column) for column in COLUMNS}
    for number, row in enumerate(rows[1:], start=2):
        if any(cell.strip() for cell in row):
            _read_row(row, number=number, places=places, findings=findings)
    return _finish(findings, unknown=[name for name in header if name and name not in COLUMNS])


def parse_number(text: str, *, what: str) -> float:
    """Return the number that `text` states, such as 23, -4.5 or 1e-3. Raises BadValue naming `what`."""
    if _NUMBER.fullmatch(text.strip()) is None:
        raise BadValue(
            problem=f"{what} is {text[:40]!r}, not a number.",
            remedy="Write it with digits and a point, such as 23.5.",
            value=text[:40],
        )
    return float(text)


def parse_local_time(text: str) -> datetime:
    """Return the local time that `text` states in ISO form. Raises BadValue for anything else."""
    try:
        moment = datetime.fromisoformat(text.strip())
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is not None:
        raise BadValue(
            problem=f"{text[:40]!r} is not a local time.",
            remedy="Write it as 2026-03-02T07:00, without a time zone.",
            value=text[:40],
        )
    return moment


def _read_row(row: list[str], *, number: int, places: dict[str, int], findings: _Findings) -> None:
    cells = {column: row[place].strip() if place < len(row) else "" for column, place in places.items()}
    column = "time"
    try:
        start = parse_local_time(cells["time"])
        column = "temp_c"
        temp_c = parse_number(cells["temp_c"], what="temp_c")
        Air(temp_c=temp_c, rh=0)
        column = "rh"
        air = Air(temp_c=temp_c, rh=parse_number(cells["rh"], what="rh"))
    except BadValue as error:
        findings.problems.append(
            Problem(error.problem, error.remedy or _ROW_REMEDY, number, column, cells[column])
        )
        return
    if findings.hours and start <= findings.hours[-1].start:
        findings.problems.append(
            Problem(
                f"{cells['time']} does not come after the row before it.",
                "Sort the rows by time and give each time once.",
                number,
                "time",
                cells["time"],
            )
        )
        return
    findings.hours.append(Hour(start, air))
    findings.times.append(cells["time"])


def _finish(findings: _Findings, *, unknown: list[str]) -> ForecastReading:
    if not findings.hours and not findings.problems:
        return _refused(Problem("The forecast has no rows below its header.", _ROW_REMEDY))
    notices = [f"Columns not read: {', '.join(unknown)}."] if unknown else []
    if findings.problems:
        return ForecastReading(None, problems=tuple(findings.problems), notices=tuple(notices))
    if len(findings.hours) == 1:
        notices.append("The forecast has one row; it is taken to hold for an hour.")
    return ForecastReading(Forecast(tuple(findings.hours)), tuple(findings.times), notices=tuple(notices))


def _refused(problem: Problem) -> ForecastReading:
    return ForecastReading(None, problems=(problem,))


def _plain(header: str) -> str:
    return header.strip().lower().replace(" ", "_")
