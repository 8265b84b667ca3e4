"""Rows that are no openings: headings, totals, repeated headers, lists of doors."""

from __future__ import annotations

import pytest

from openings.schedule.headings import face_name, is_total, names_doors
from tests.openings.schedule.builders import SIZED, read, refused


@pytest.mark.parametrize(
    ("heading", "face"),
    [
        ("FRONT ELEVATION", "Front"),
        ("Front", "Front"),
        ("rear elevation", "Rear"),
        ("LEFT SIDE ELEVATION", "Left"),
        ("Right Side", "Right"),
        ("ELEVATION: NORTH", "North"),
        ("North Elevation - second floor", "North"),
        ("NORTH-EAST ELEVATION", "North-East"),
        ("South west", "South West"),
        ("ELEVATION 1 - FRONT", "Front"),
        ("Elevation B", "Elevation B"),
        ("STREET ELEVATION", "Street"),
        ("Garage side", "Garage side"),
        ("Page 2 of 3", ""),
        ("GARAGE", ""),
        ("Windows on back order", ""),
        ("All RO to be field verified, right side included", ""),
        ("WINDOWS", ""),
        ("", ""),
    ],
)
def test_heading_names_a_face_or_none(heading: str, face: str) -> None:
    assert face_name(heading) == face


@pytest.mark.parametrize(
    "mark", ["total", "TOTAL", "Total:", "Sum", "SUM", "Totals", "Grand Total", "Subtotal"]
)
def test_total_is_known_in_any_case(mark: str) -> None:
    assert is_total(mark)


@pytest.mark.parametrize("mark", ["T1", "Total wall", "Summit", "W-total", ""])
def test_mark_that_only_resembles_a_total_is_an_opening(mark: str) -> None:
    assert not is_total(mark)


@pytest.mark.parametrize("heading", ["DOORS", "Door schedule", "EXTERIOR DOORS", "Patio doors"])
def test_heading_of_doors_is_known(heading: str) -> None:
    assert names_doors(heading)
    assert not names_doors("See door schedule for sliding units")


def test_heading_sets_the_elevation_of_the_rows_below() -> None:
    reading = read(f"{SIZED}\nW0,36,60\nFRONT ELEVATION,,\nW1,36,60\nW2,36,60\nREAR,,\nW3,36,60\n")

    assert [opening.elevation for opening in reading.openings] == ["Unplaced", "Front", "Front", "Rear"]
    assert reading.rows == 4
    assert any("Row 2: no elevation" in notice for notice in reading.notices)


def test_own_elevation_wins_over_the_heading() -> None:
    reading = read("elevation,mark,unit_width,unit_height\nFRONT,,,\n,W1,36,60\nWest,W2,36,60\n")

    assert [opening.elevation for opening in reading.openings] == ["Front", "West"]


def test_heading_that_names_no_face_is_a_notice_and_keeps_the_face() -> None:
    reading = read(f"{SIZED}\nFRONT ELEVATION,,\nW1,36,60\nSecond floor,,\nW2,36,60\n")

    assert [opening.elevation for opening in reading.openings] == ["Front", "Front"]
    assert any("Row 4: “Second floor”" in notice for notice in reading.notices)


def test_text_alone_in_another_cell_is_no_heading() -> None:
    reading = read(f"{SIZED},note\n,,,see plan\n")

    assert reading.rows == 1
    assert (2, "mark") in refused(reading)


def test_total_rows_are_skipped_with_a_notice() -> None:
    reading = read(f"{SIZED},count\nW1,36,60,2\nTOTAL,,,2\nsum,36,60,\n,,,\n")

    assert reading.problems == ()
    assert reading.rows == 1
    assert any("Rows 3 and 4: a total" in notice for notice in reading.notices)


def test_total_named_in_the_first_cell_is_skipped_too() -> None:
    reading = read("elevation,mark,unit_width,unit_height,count\nFront,W1,36,60,1\nTotal,,,,1\n")

    assert reading.problems == ()
    assert reading.rows == 1


def test_count_that_stands_alone_is_a_total() -> None:
    reading = read(f"{SIZED},count\nW1,36,60,2\n,,,2\n")

    assert reading.problems == ()
    assert any("Row 3: a total" in notice for notice in reading.notices)


def test_empty_rows_are_skipped_without_a_word() -> None:
    reading = read(f"{SIZED}\n\nW1,36,60\n , ,\n,,\n\nW2,36,60\n\n\n")

    assert [opening.row for opening in reading.openings] == [3, 7]
    assert reading.rows == 2


def test_repeated_header_after_a_page_break_is_skipped() -> None:
    reading = read("MARK,R.O. (W x H)\nA,36 x 60 1/2\nPage 2,\nMark,R.O. (w x h)\nB,36 x 60 1/2\n")

    assert [opening.mark for opening in reading.openings] == ["A", "B"]
    assert any("Row 4: the header again" in notice for notice in reading.notices)


def test_rows_under_a_heading_of_doors_are_refused_in_words() -> None:
    reading = read(f"{SIZED}\nW1,36,60\nDOORS,,\nD1,36,80\nWINDOWS,,\nW2,36,60\n")

    assert refused(reading) == [(4, "shape")]
    assert "doors are not read" in reading.problems[0].problem
    assert [opening.mark for opening in reading.openings] == ["W1", "W2"]


def test_trailing_notes_are_notices() -> None:
    reading = read(f'{SIZED}\nW1,36,60\n"All sizes to be field verified, see sheet A4",,\n')

    assert reading.problems == ()
    assert any("All sizes to be field verified" in notice for notice in reading.notices)


def test_elevations_of_other_case_are_one_face() -> None:
    reading = read("elevation,mark,unit_width,unit_height\nNorth,W1,36,60\nNORTH,W2,36,60\nnorth ,W3,36,60\n")

    assert {opening.elevation for opening in reading.openings} == {"North"}


def test_nothing_below_the_header_is_a_problem() -> None:
    reading = read(f"{SIZED}\n\n")

    assert reading.rows == 0
    assert "no openings below the header" in reading.problems[0].problem


def test_empty_file_is_a_problem() -> None:
    for content in ("", "\n\n", " \n"):
        reading = read(content)
        assert reading.openings == ()
        assert reading.problems[0].problem == "The file has no rows."
