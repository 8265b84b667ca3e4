"""Any file at all: an answer in plain words, never a crash."""

from __future__ import annotations

import csv
import io
import re

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from openings.schedule import limits
from openings.schedule.reading import ScheduleReading
from projects.errors import BadValue
from tests.openings.schedule.builders import read, simple_workbook

BANNED = ("invalid", "oops", "error occurred", "please try again later", "null", "exception")
CELLS = st.one_of(
    st.sampled_from(
        [
            "", "W1", "36", "36 1/2", "3'-0 1/2\"", "914 mm", "3050", "210-48", "36 x 60", "total",
            "FRONT ELEVATION",
            "fixed", "none", "A1", "sealed", "1,8 m", "1.5", "-", "2x3mm", "3-6", "DOORS", "arch",
            "#REF!", "0", "99",
        ]
    ),
    st.text(max_size=12),
)  # fmt: skip
HEADERS = st.sampled_from(
    ["mark", "unit_width", "unit_height", "ro_size", "size", "count", "elevation", "fin", "method",
    "over_fin",
     "sill_height", "head_height", "offset", "glass", "weight_lb", "note", "flags", "Qty",
     "R.O. (W x H)", "Type", "?"]
)  # fmt: skip
WRITTEN = st.lists(st.lists(CELLS, max_size=8), max_size=8)


def check(reading: ScheduleReading) -> None:
    """Check what holds for every reading: a bad row has no opening, every problem has a remedy."""
    bad = {problem.row for problem in reading.problems}
    assert not {opening.row for opening in reading.openings} & bad
    assert len({opening.mark for opening in reading.openings}) == len(reading.openings)
    assert reading.rows == len(reading.row_readings)
    for opening in reading.openings:
        assert opening.ro_width >= opening.unit_width
        assert opening.ro_height >= opening.unit_height
    for problem in reading.problems:
        check_words(f"{problem.problem} {problem.remedy}")
        assert problem.remedy


def check_words(words: str) -> None:
    said = re.sub("“.*?”", "it", words, flags=re.DOTALL)
    assert len(said.split()) <= 25, words
    assert not any(banned in said.lower() for banned in BANNED), words


@given(st.binary(max_size=400))
@settings(deadline=None)
def test_any_bytes_are_answered(content: bytes) -> None:
    check(read(content))


@given(st.lists(HEADERS, min_size=1, max_size=8), WRITTEN)
@settings(deadline=None, max_examples=300)
@example(["mark", "unit_width", "unit_height"], [["", "1.5"]])
@example(["mark", "fin", "R.O. (W x H)"], [["", "none"]])
def test_any_table_is_answered(header: list[str], rows: list[list[str]]) -> None:
    written = io.StringIO()
    csv.writer(written).writerows([header, *rows])

    check(read(written.getvalue().encode("utf-8", errors="replace")))


@given(st.integers(min_value=0, max_value=4000), st.integers(min_value=0, max_value=255))
@settings(deadline=None, max_examples=200)
def test_workbook_with_any_byte_changed_is_answered(position: int, byte: int) -> None:
    content = bytearray(simple_workbook_bytes())
    content[position % len(content)] = byte

    check(read(bytes(content), filename="schedule.xlsx"))


def simple_workbook_bytes(kept: list[bytes] = []) -> bytes:  # noqa: B006  # made once for all examples
    if not kept:
        kept.append(simple_workbook())
    return kept[0]


@pytest.mark.parametrize(
    "refusal",
    [limits.too_many_rows(), limits.too_many_columns(3), limits.too_many_openings(),
    limits.unsafe_workbook(),
     limits.wrong_type()],
)  # fmt: skip
def test_refusal_of_a_file_says_what_to_do_in_few_words(refusal: BadValue) -> None:
    check_words(str(refusal))
