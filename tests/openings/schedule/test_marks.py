"""Marks: as typed, one per opening, numbered where a row counts several."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.quantities.length import Length
from tests.openings.schedule.builders import SIZED, read, refused


def marks(text: str) -> list[str]:
    return [opening.mark for opening in read(text).openings]


def test_count_makes_marks_with_two_digits_and_no_separator() -> None:
    assert marks(f"{SIZED},count\nR,36,60,3\n") == ["R01", "R02", "R03"]


def test_count_of_hundred_and_more_runs_on_after_99() -> None:
    found = marks(f"{SIZED},count\nR,36,60,100\n")

    assert found[0] == "R01"
    assert found[98:] == ["R99", "R100"]


@pytest.mark.parametrize("count", ["", "1", "1.0", " 1 ", "1 ea", "-"])
def test_empty_count_or_one_has_no_suffix(count: str) -> None:
    assert marks(f"{SIZED},count,fin\nR,36,60,{count},fixed\n") == ["R"]


@pytest.mark.parametrize("count", ["2", "2.0", "2 EA", "2 pcs", "2x", " 2 "])
def test_count_is_read_with_its_usual_words(count: str) -> None:
    assert marks(f"{SIZED},count\nR,36,60,{count}\n") == ["R01", "R02"]


@pytest.mark.parametrize(
    "count",
    ["0", "-1", "1.5", "1e9", "1001", "1000000000", "NaN", "٣", "³", "two", "1,000", "#REF!", "3-Jun"],
)
def test_count_out_of_range_or_no_number_is_refused(count: str) -> None:
    reading = read(f'{SIZED},count\nR,36,60,"{count}"\n')

    assert refused(reading) == [(2, "count")]
    assert "1 to 1,000" in reading.problems[0].remedy or "error" in reading.problems[0].problem
    assert reading.openings == ()


def test_largest_count_is_a_thousand() -> None:
    assert len(read(f"{SIZED},count\nR,36,60,1000\n").openings) == 1000


def test_clash_of_an_expanded_mark_is_a_problem_of_the_later_row() -> None:
    reading = read(f"{SIZED},count\nR,36,60,3\nR02,36,60,1\nR0,36,60,\n")

    assert refused(reading) == [(3, "mark")]
    assert "R02 is used in row 2" in reading.problems[0].problem
    assert [opening.mark for opening in reading.openings] == ["R01", "R02", "R03", "R0"]


def test_expansion_that_clashes_with_an_earlier_mark_is_a_problem() -> None:
    reading = read(f"{SIZED},count\nR02,36,60,1\nR,36,60,3\n")

    assert refused(reading) == [(3, "mark")]
    assert [opening.mark for opening in reading.openings] == ["R02"]


def test_mark_used_twice_is_a_problem_even_where_the_first_row_is_bad() -> None:
    reading = read(f"{SIZED}\nW1,bad,60\nW1,36,60\n")

    assert refused(reading) == [(2, "unit_width"), (3, "mark")]


def test_count_with_an_offset_is_a_problem() -> None:
    reading = read(f"{SIZED},count,offset\nR,36,60,2,24\nS,36,60,1,24\nT,36,60,2,\n")

    assert refused(reading) == [(2, "offset")]
    assert [opening.mark for opening in reading.openings] == ["S", "T01", "T02"]
    assert reading.openings[0].offset == Length.inches(24)


@pytest.mark.parametrize(
    "mark",
    ["A" * 64, "W-1", "7", "=1+1", "<b>", "Ü1", "\u202eW1", "W\u200b1", "№1", "木1", "' OR 1=1 --", "W 1"],
)
def test_mark_is_kept_as_typed(mark: str) -> None:
    assert marks(f'{SIZED}\n"{mark}",36,60\n') == [mark]


@pytest.mark.parametrize(
    "mark",
    ["A" * 65, "W\n1", "W\r\n1", "W\x001", "W\x071", "W\x1b1", "W\x851", "W\u20281", "W\x7f"],
)
def test_mark_too_long_or_with_controls_is_refused_with_the_rule(mark: str) -> None:
    reading = read(f'{SIZED}\nok,36,60\n"{mark}",36,60\n')

    assert refused(reading) == [(3, "mark")]
    assert reading.problems[0].problem == (
        "Marks can have up to 64 characters and no line breaks or control characters."
    )


def test_count_must_not_make_a_mark_too_long() -> None:
    # 63 + 2 digits = 65
    assert refused(read(f"{SIZED},count\n{'A' * 63},36,60,2\n")) == [(2, "mark")]
    assert len(read(f"{SIZED},count\n{'A' * 62},36,60,2\n").openings) == 2


def test_missing_mark_is_a_problem() -> None:
    assert refused(read(f"{SIZED}\n,36,60\n \t,36,60\n")) == [(2, "mark"), (3, "mark")]


def test_spaces_around_a_mark_are_dropped() -> None:
    assert marks(f"{SIZED}\n  W1\t,36,60\n\u00a0W2 ,36,60\n") == ["W1", "W2"]


@given(st.text(min_size=1, max_size=70))
@settings(deadline=None)
def test_any_mark_is_kept_byte_for_byte_or_refused(mark: str) -> None:
    cell = mark.replace('"', '""')
    reading = read(f'unit_width,unit_height,mark\n36,60,"{cell}"\n'.encode(errors="surrogatepass"))

    for opening in reading.openings:
        assert opening.mark == mark.strip(" \t\u00a0")
    assert reading.openings or reading.problems or reading.notices
