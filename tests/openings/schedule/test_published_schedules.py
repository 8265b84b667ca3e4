"""The three published schedules: their good rows come in, and of each bad row is said what is wrong."""

from __future__ import annotations

import os
from fractions import Fraction
from pathlib import Path

import pytest

from openings.schedule.reading import ScheduleReading
from openings.takeoff.opening import GlassPanes
from projects.quantities.length import Length
from tests.openings.schedule.builders import read, refused

FOLDER = Path(os.environ.get("LAPWISE_DATA", Path(__file__).parents[4] / "shared" / "data")) / "schedules"

pytestmark = [
    pytest.mark.published,
    pytest.mark.skipif(not FOLDER.is_dir(), reason=f"the published schedules are not in {FOLDER}"),
]


def read_published(name: str) -> ScheduleReading:
    return read((FOLDER / name).read_bytes(), filename=name)


def test_ridgeline_reads_every_opening_without_matching_a_header() -> None:
    reading = read_published("ridgeline-lot-07.csv")

    assert reading.problems == ()
    assert reading.rows == 9
    # 2 + 1 + 1, 3 + 1, 1 + 2 + 1, 1 = 13, as the schedule's own total says
    assert [opening.mark for opening in reading.openings] == [
        *("A01", "A02", "B", "C", "D01", "D02", "D03", "E", "F", "G01", "G02", "H", "J"),
    ]
    assert [opening.elevation for opening in reading.openings] == (
        ["Front"] * 4 + ["Left"] * 4 + ["Rear"] * 4 + ["Right"]
    )
    assert reading.matched["ro_size"] == "R.O. (W x H)"
    assert reading.unmatched == ("TYPE",)


def test_ridgeline_sizes_come_from_the_rough_opening_and_the_head() -> None:
    reading = read_published("ridgeline-lot-07.csv")
    first = reading.openings[0]

    # RO 3'-0 1/2" x 5'-0 1/2" = 36 1/2 x 60 1/2; unit 1/2 less; sill = 6'-10" - 60 1/2 = 82 - 60 1/2 = 21 1/2
    assert (first.ro_width, first.ro_height) == (Length.inches(36.5), Length.inches(60.5))
    assert (first.unit_width, first.unit_height) == (Length.inches(36), Length.inches(60))
    assert first.sill_height == Length.inches(21.5)
    assert (first.fin, first.corners, first.row) == ("fixed", "open", 6)
    # G: 15'-4" - 60 1/2 = 184 - 60 1/2 = 123 1/2
    assert reading.openings[9].sill_height == Length.inches(123.5)
    assert reading.openings[2].note == "factory mulled; 2 mulls"


def test_ridgeline_says_what_it_left_out() -> None:
    notices = " ".join(read_published("ridgeline-lot-07.csv").notices)

    assert "Row 19: a total" in notices
    assert "TYPE" in notices
    assert "Row 7: the note speaks of mulls" in notices


def test_harrow_mill_reads_millimetres_and_decimal_commas() -> None:
    reading = read_published("harrow-mill-unit-3.csv")

    assert reading.problems == ()
    assert reading.rows == 5
    marks = [opening.mark for opening in reading.openings]
    assert marks == ["N101", "N102", "N2", "E101", "E102", "E103", "E2", "S1"]
    wide = reading.openings[6]
    # 1,8 m x 1,2 m; RO = unit + 1/2 in = + 12.7 mm
    assert (wide.unit_width, wide.unit_height) == (Length.mm(1800), Length.mm(1200))
    assert wide.ro_width == Length.mm(Fraction("1812.7"))
    assert wide.glass == GlassPanes(2, Length.mm(4))
    assert wide.note == "Übergröße prüfen"
    assert reading.openings[3].glass == GlassPanes(2, Length.mm(3))
    notices = " ".join(reading.notices)
    assert "comma" in notices
    assert "Windows-1252" in notices


def test_hillside_brings_the_good_rows_and_names_the_bad() -> None:
    reading = read_published("hillside-residence.xlsx")

    assert reading.sheet == "Windows"
    assert reading.rows == 7
    assert [opening.mark for opening in reading.openings] == ["1", "2", "301", "302", "5"]
    assert refused(reading) == [(8, "unit_width"), (10, "unit_height"), (11, "unit_width")]
    date, height, arch = reading.problems
    assert "date" in date.problem
    assert date.value == "2026-06-03"
    assert "height is missing" in height.problem
    assert "arch" in arch.problem
    assert all(problem.remedy for problem in reading.problems)


def test_hillside_reads_the_makers_spacing_and_mixed_sizes() -> None:
    first, second = read_published("hillside-residence.xlsx").openings[:2]

    assert first.fastener_max == Length.inches(8)
    assert (first.unit_width, first.unit_height) == (Length.inches(36), Length.inches(60.5))
    # 3'-5 1/2" x 5'-3 1/4" = 41 1/2 x 63 1/4
    assert (second.unit_width, second.unit_height) == (Length.inches(41.5), Length.inches(63.25))
    assert (first.elevation, first.fin, first.corners) == ("South", "folding", "open")
    assert first.note == "wood, clad"
    assert second.note == ""
