"""What a workbook's cells hold: dates, formulas, errors, units of number formats."""

from __future__ import annotations

import datetime
from fractions import Fraction

import openpyxl
import pytest

from openings.schedule.workbook import shown_unit
from projects.quantities.length import Length
from tests.openings.schedule.builders import (
    RAW_ROWS,
    RAW_STRINGS,
    good,
    part_of,
    raw_workbook,
    read,
    refused,
    saved,
    with_parts,
    workbook,
)

HEADER = ["mark", "unit_width", "unit_height", "count", "note"]


def test_numbers_come_as_they_stand() -> None:
    reading = read(workbook(("A", [HEADER, [1, 36, 60.5, 2, None], [2.5, "36 1/2", 0.1 * 3 + 59.7, 1.0, 7]])))

    assert [opening.mark for opening in reading.openings] == ["101", "102", "2.5"]
    # 0.1 x 3 + 59.7 is 60.00000000000001 to a computer; a spreadsheet shows 60
    assert reading.openings[2].unit_height == Length.inches(60)
    assert reading.openings[2].note == "7"


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (datetime.date(2026, 6, 3), "2026-06-03"),
        (datetime.datetime(2026, 6, 3, 0, 0), "2026-06-03"),
        (datetime.datetime(2026, 6, 3, 14, 30), "2026-06-03 14:30:00"),
        (datetime.time(6, 30), "06:30:00"),
        (datetime.timedelta(hours=30), "1 day, 6:00:00"),
    ],
)
def test_date_in_a_length_column_is_refused_with_that_reason(value: object, shown: str) -> None:
    reading = read(workbook(("A", [HEADER, ["W1", value, 60]])))

    (problem,) = reading.problems
    assert (problem.row, problem.column, problem.value) == (2, "unit_width", shown)
    assert "date" in problem.problem
    assert "text" in problem.remedy


@pytest.mark.parametrize("column", [0, 1, 2, 3])
def test_date_in_any_other_column_but_the_note_is_refused(column: int) -> None:
    row: list[object] = ["W1", 36, 60, 1, datetime.date(2026, 6, 3)]
    row[column] = datetime.date(2026, 3, 5)
    reading = read(workbook(("A", [HEADER, row])))

    assert refused(reading) == [(2, HEADER[column])]


def test_date_in_a_note_stays_text() -> None:
    row = ["W1", 36, 60, 1, datetime.date(2026, 6, 3)]

    assert good(read(workbook(("A", [HEADER, row])))).note == "2026-06-03"


def test_formula_gives_its_stored_value() -> None:
    content = workbook(("A", [HEADER, ["W1", "=30+6", 60, 1]]))
    sheet = (
        part_of(content, "xl/worksheets/sheet1.xml")
        .replace(b"<v></v>", b"<v>36</v>")
        .replace(b"<v />", b"<v>36</v>")
        .replace(b"<v/>", b"<v>36</v>")
    )

    assert good(read(with_parts(content, {"xl/worksheets/sheet1.xml": sheet}))).unit_width == Length.inches(
        36
    )


def test_formula_without_a_stored_value_is_refused_not_read_as_empty() -> None:
    reading = read(workbook(("A", [HEADER, ["W1", 36, 60, "=1+1"]])))

    assert refused(reading) == [(2, "count")]
    assert "formula" in reading.problems[0].problem


@pytest.mark.parametrize("error", ["#REF!", "#N/A", "#VALUE!"])
def test_spreadsheet_error_is_refused_as_one(error: str) -> None:
    reading = read(workbook(("A", [HEADER, ["W1", error, 60]])))

    assert refused(reading) == [(2, "unit_width")]
    assert error in reading.problems[0].problem


def test_number_shown_with_a_unit_has_that_unit() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(["mark", "unit_width", "unit_height"])
    sheet.append(["W1", 914, 60])
    sheet["B2"].number_format = '0" mm"'

    assert good(read(saved(book))).unit_width == Length.mm(914)


@pytest.mark.parametrize(
    ("number_format", "unit"),
    [('0" mm"', "mm"), ('#,##0.0"cm"', "cm"), ("0\\ \\m\\m", "mm"), ('# ?/?" in"', "in"), ("General", ""),
     ("0.00", ""), ('"$"0', ""), ("# ??/??", ""), ("0%", ""), ('0" mm";[Red]0', "mm")],
)  # fmt: skip
def test_unit_of_a_number_format_is_known(number_format: str, unit: str) -> None:
    assert shown_unit(number_format) == unit


def test_fraction_format_changes_no_value() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(["mark", "unit_width", "unit_height"])
    sheet.append(["W1", 36.5, 60])
    sheet["B2"].number_format = "# ?/?"

    assert good(read(saved(book))).unit_width == Length.inches(Fraction(73, 2))


def test_decimal_points_of_numbers_do_not_forbid_a_decimal_comma() -> None:
    reading = read(workbook(("A", [HEADER, ["W1", "1,8 m", 60.5], ["W2", 36.25, "60,5"]])))

    assert reading.problems == ()
    assert reading.openings[0].unit_width == Length.mm(1800)
    assert reading.openings[1].unit_height == Length.inches(60.5)


def test_text_beside_numbers_is_read_like_text() -> None:
    row = [" W1 ", "3'-0 1/2\"", "60 ", "2 ", " as typed "]
    opening = read(workbook(("A", [HEADER, row]))).openings[0]

    assert (opening.mark, opening.note) == ("W101", " as typed ")


def test_true_and_false_answer_yes_and_no() -> None:
    rows = [
        ["mark", "unit_width", "unit_height", "head_fasteners"],
        ["W1", 36, 60, True],
        ["W2", 36, 60, False],
    ]

    assert [opening.head_fasteners for opening in read(workbook(("A", rows))).openings] == ["yes", "no"]


@pytest.mark.parametrize("value", ["1e999", "INF", "-36", "1E+5"])
def test_number_that_is_no_size_is_a_problem_of_its_row(value: str) -> None:
    reading = read(raw_workbook(RAW_ROWS.replace("<v>36</v>", f"<v>{value}</v>"), RAW_STRINGS))

    assert refused(reading) == [(2, "unit_width")]
