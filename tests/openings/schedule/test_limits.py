"""Large and malformed files: limits that are said, and ten thousand rows with two thousand bad ones."""

from __future__ import annotations

import csv
import io
import random
import subprocess
import sys

import pytest

from openings.schedule.limits import MAX_BYTES, TOO_LARGE
from tests.openings.schedule.builders import SIZED, read, refused, workbook

BAD = {
    "unit_width": ["3-6", "abc", "999", "", "NaN"],
    "unit_height": ["36,5", "1/3", "5", "2026-06-03"],
    "count": ["0", "-1", "1.5", "1e9"],
    "fin": ["none", "perhaps"],
    "mark": ["A" * 65, "W\x00"],
}
COLUMNS = ["elevation", "mark", "unit_width", "unit_height", "count", "fin", "corners", "note"]


def malformed(rows: int, bad: int) -> tuple[list[list[str]], dict[int, str]]:
    """Return rows with a header, `bad` of them with one bad cell, and row number -> its column. Seeded."""
    chance = random.Random(14)
    made = [
        ["North", f"W{number}", "36 1/2", "5'-0 1/2\"", "1", "fixed", "open", f"row {number}"]
        for number in range(rows)
    ]
    expected = {}
    for index in sorted(chance.sample(range(rows), bad)):
        column = chance.choice(list(BAD))
        made[index][COLUMNS.index(column)] = chance.choice(BAD[column])
        expected[index + 2] = column
    return [COLUMNS, *made], expected


def as_csv(rows: list[list[str]]) -> bytes:
    written = io.StringIO()
    csv.writer(written).writerows(rows)
    return written.getvalue().encode()


def test_two_thousand_bad_of_ten_thousand_rows_are_all_named_by_row_and_column() -> None:
    rows, expected = malformed(10_000, 2_000)

    reading = read(as_csv(rows))

    assert reading.rows == 10_000
    assert {(problem.row, problem.column) for problem in reading.problems} == set(expected.items())
    assert len(reading.problems) == 2_000
    assert len(reading.openings) == 8_000
    assert not {opening.row for opening in reading.openings} & set(expected)
    assert len(reading.bad_rows) == 2_000
    assert len(reading.notices) < 10


def test_malformed_workbook_is_read_like_the_text() -> None:
    rows, expected = malformed(1_000, 200)
    # a workbook cannot hold a NUL at all
    rows = [[cell.replace("\x00", "\n") for cell in row] for row in rows]

    reading = read(workbook(("A", rows)))

    assert {(problem.row, problem.column) for problem in reading.problems} == set(expected.items())
    assert len(reading.openings) == 800


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_ten_thousand_rows_stay_within_150_megabytes(kind: str) -> None:
    code = f"""
import resource
from tests.openings.schedule.builders import read, workbook
from tests.openings.schedule.test_limits import as_csv, malformed
rows = malformed(10_000, 0)[0]
content = as_csv(rows) if "{kind}" == "csv" else workbook(("A", rows))
del rows
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
assert read(content).rows == 10_000
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
"""
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)

    assert int(ran.stdout) < 150 * 1024  # kilobytes


def test_twenty_megabytes_are_the_limit() -> None:
    reading = read(b"mark,size\n" + b"x" * MAX_BYTES)

    assert reading.refusal == TOO_LARGE
    assert "20 MB" in reading.problems[0].remedy
    assert reading.openings == ()


def test_fifty_thousand_rows_are_read_and_one_more_is_refused() -> None:
    row = "W,,\n"  # headings are rows too, and quick to read
    body = f"mark,unit_width,unit_height\n{row * 49_999}W1,36,60\n"

    assert len(read(body).openings) == 1
    reading = read(f"{body}W2,36,60\n")
    assert reading.refusal == TOO_LARGE
    assert reading.problems[0].remedy == "Split the file: the limit is 50,000 rows."
    assert reading.openings == ()


@pytest.mark.parametrize("cell", ["ab,", '"a\n",'])
def test_endless_row_is_refused_with_its_number(cell: str) -> None:
    reading = read(f"{SIZED}\nW1,36,60\n{cell * 400_000}\n")

    assert reading.refusal == TOO_LARGE
    assert reading.problems[0].row == 3
    assert reading.openings == ()


def test_more_than_a_million_cells_are_refused() -> None:
    row = "W,36,60," + "x," * 396 + "y\n"
    reading = read(f"{SIZED}\n{row * 2_501}")

    assert reading.refusal == TOO_LARGE
    assert "1,000,000 cells" in reading.problems[0].problem


@pytest.mark.parametrize(
    "column", ["unit_width", "size", "ro_size", "count", "weight_lb", "glass", "fin", "note"]
)
def test_long_cell_of_blanks_is_answered_at_once(column: str) -> None:
    """A pattern that backtracks over a hundred thousand blanks would not come back."""
    cell = "1" + " " * 100_000 + "z"

    assert refused(read(f"mark,unit_height,{column},ro_width\nW1,60,{cell},36\n")) == [(2, column)]


def test_blank_rows_do_not_count_towards_the_limit() -> None:
    assert len(read(f"{SIZED}\n{',,' * 1}\n" + "\n" * 60_000 + "W1,36,60\n").openings) == 1


def test_titles_without_end_are_refused() -> None:
    assert read("title\n" * 50_002).refusal == TOO_LARGE


def test_five_hundred_columns_are_the_limit() -> None:
    extra = ",".join(f"x{number}" for number in range(497))
    assert len(read(f"{SIZED},{extra}\nW1,36,60\n").openings) == 1
    reading = read(f"{SIZED},{extra},y\nW1,36,60\n")
    assert reading.refusal == TOO_LARGE
    assert "500" in reading.problems[0].remedy


def test_wide_workbook_is_refused_by_the_same_limit() -> None:
    header = ["mark", "unit_width", "unit_height", *[f"x{number}" for number in range(498)]]

    assert read(workbook(("A", [header, ["W1", 36, 60]]))).refusal == TOO_LARGE


def test_sixty_missing_columns_are_named_once() -> None:
    header = ",".join(f"col{number}" for number in range(60))
    reading = read(f"{header}\n{','.join('x' for _ in range(60))}\n")

    assert len(reading.headers) == 60
    assert len(reading.problems) == 1


def test_counts_beyond_fifty_thousand_openings_are_refused() -> None:
    rows = "".join(f"W{number}x,36,60,1000\n" for number in range(51))
    reading = read(f"{SIZED},count\n{rows}")

    assert reading.refusal == TOO_LARGE
    assert reading.openings == ()


def test_one_bad_row_is_told_with_row_column_and_value() -> None:
    reading = read(f"{SIZED}\nW1,36,60\nW2,36 1/3,60\n")

    assert refused(reading) == [(3, "unit_width")]
    assert reading.problems[0].as_json() == {
        "row": 3,
        "column": "unit_width",
        "value": "36 1/3",
        "problem": "“36 1/3” has a fraction that no tape measure shows.",
        "remedy": "Use halves, quarters, eighths, sixteenths, 32nds or 64ths.",
    }
