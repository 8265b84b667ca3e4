"""Headers: which row is the header, which column holds what, and matching by hand."""

from __future__ import annotations

import pytest

from openings.schedule.headers import find, plain
from openings.schedule.limits import NO_SCHEDULE
from openings.schedule.read import unused_match
from openings.schedule.words import COLUMNS
from projects.quantities.length import Length
from tests.openings.schedule.builders import good, read, refused


@pytest.mark.parametrize("column", COLUMNS)
def test_our_own_names_are_known_in_any_case_with_spaces_or_underscores(column: str) -> None:
    for header in (column, column.upper(), column.replace("_", " "), f" {column.title()} "):
        found = find(header, {})
        assert found is not None
        assert found.column == column


@pytest.mark.parametrize(
    ("header", "column"),
    [
        ("Qty", "count"),
        ("QTY.", "count"),
        ("pcs", "count"),
        ("Pcs.", "count"),
        ("Quantity", "count"),
        ("No.", "mark"),
        ("#", "mark"),
        ("Tag", "mark"),
        ("Window #", "mark"),
        ("WINDOW NO.", "mark"),
        ("Opening", "mark"),
        ("Location", "elevation"),
        ("Side", "elevation"),
        ("Elev.", "elevation"),
        ("R.O.", "ro_size"),
        ("R.O. (W x H)", "ro_size"),
        ("RO WxH", "ro_size"),
        ("Rough Opening (W × H)", "ro_size"),
        ("R.O. Width", "ro_width"),
        ("R.O.W", None),
        ("Rough Opening Height", "ro_height"),
        ("Frame", "unit_size"),
        ("Frame W", "unit_width"),
        ("FRAME H.", "unit_height"),
        ("Frame Width (mm)", "unit_width"),
        ("WIDTH in.", "unit_width"),
        ("Ht.", "unit_height"),
        ("Unit size (W x H)", "unit_size"),
        ("Size (W x H)", "unit_size"),
        ("Size", "size"),
        ("Call size", "size"),
        ("Head Ht", "head_height"),
        ("HEAD HGT.", "head_height"),
        ("Sill ht.", "sill_height"),
        ("Nail fin", "fin"),
        ("Fin corners", "corners"),
        ("Maker's max fastener spacing", "fastener_max"),
        ("Remarks", "note"),
        ("Comment", "note"),
        ("Weight (lb)", "weight_lb"),
        ("Weight (kg)", "weight_lb"),
        ("U-value", None),
        ("Hardware", None),
    ],
)
def test_usual_synonyms_are_known(header: str, column: str | None) -> None:
    found = find(header, {})

    assert (found.column if found else None) == column


def test_unit_in_a_header_holds_for_bare_numbers_only() -> None:
    reading = read("mark,Width (mm),Height [mm]\nW1,914,1524\nW2,36 in,5'-0\"\n")

    first, second = reading.openings
    assert (first.unit_width, first.unit_height) == (Length.mm(914), Length.mm(1524))
    assert (second.unit_width, second.unit_height) == (Length.inches(36), Length.inches(60))
    assert any("“Width (mm)”: numbers without a unit are mm" in notice for notice in reading.notices)


def test_unit_in_a_title_holds_for_bare_numbers_and_is_said() -> None:
    reading = read("Lot 4,,\nAll dimensions in millimetres,,\nmark,unit_width,unit_height\nW1,914,1524\n")

    assert good(reading).unit_width == Length.mm(914)
    assert any("title says mm" in notice for notice in reading.notices)


def test_titles_above_the_header_are_skipped_and_rows_keep_their_numbers() -> None:
    reading = read("LOT 7\nrev C,,\n\nmark,unit_width,unit_height\n\nW1,36,60\nW2,,60\n")

    assert reading.header_row == 4
    assert reading.openings[0].row == 6
    assert refused(reading) == [(7, "unit_width")]


def test_group_names_above_the_header_join_it() -> None:
    reading = read(",,ROUGH OPENING,,FRAME,\nMARK,QTY,WIDTH,HEIGHT,WIDTH,HEIGHT\nW1,1,36 3/4,60 3/4,36,60\n")

    opening = good(reading)
    assert (opening.ro_width, opening.ro_height) == (Length.inches(36.75), Length.inches(60.75))
    assert (opening.unit_width, opening.unit_height) == (Length.inches(36), Length.inches(60))
    assert reading.matched["ro_width"] == "ROUGH OPENING WIDTH"


def test_sub_headers_below_a_complete_header_join_it() -> None:
    reading = read("MARK,ROUGH OPENING,,QTY\n,WIDTH,HEIGHT,\nW1,36.5,60.5,2\n")

    assert reading.problems == ()
    assert [opening.mark for opening in reading.openings] == ["W101", "W102"]
    assert reading.openings[0].ro_width == Length.inches(36.5)


def test_sub_header_that_is_not_known_leaves_its_column_unread() -> None:
    reading = read(
        "TAG,TYPE,ROUGH OPENING,,HEAD HEIGHT,FINISH\n,,WIDTH,HEIGHT,ABOVE FLOOR,\nW1,SH,36.5,60.5,82,white\n"
    )

    # a height above the floor is none from grade
    assert good(reading).sill_height is None
    assert reading.unmatched == ("TYPE", "HEAD HEIGHT ABOVE FLOOR", "FINISH")


def test_units_in_a_row_below_the_header_are_read() -> None:
    reading = read("MARK,WIDTH,HEIGHT\n,(mm),(mm)\nW1,914,1524\n")

    assert good(reading).unit_height == Length.mm(1524)


def test_first_data_row_is_never_taken_for_a_sub_header() -> None:
    reading = read("MARK,SIZE,NOTE\nA,3050,width\nB,2040,\n")

    assert [opening.mark for opening in reading.openings] == ["A", "B"]


def test_foreign_headers_are_proposed_for_matching() -> None:
    reading = read("Schedule of windows\nFenster,Breite,Hoehe,Anzahl\nW1,914 mm,1524 mm,1\n")

    assert reading.refusal == NO_SCHEDULE
    assert reading.openings == ()
    assert reading.header_row == 2
    assert reading.headers == ("Fenster", "Breite", "Hoehe", "Anzahl")
    (problem,) = reading.problems
    assert "has no mark, width, height" in problem.problem


def test_missing_column_of_a_header_is_named() -> None:
    reading = read("Mark,Width,Breadth\nW1,36,60\n")

    (problem,) = reading.problems
    assert "has no height" in problem.problem
    assert problem.row == 1
    assert reading.unmatched == ("Breadth",)


def test_one_matching_of_headers_brings_the_rows_in() -> None:
    match = {"fenster": "mark", "Breite": "unit_width", "HOEHE": "Unit height", "Anzahl": "count"}
    reading = read("Fenster,Breite,Hoehe,Anzahl\nW1,914 mm,1524 mm,1\n", match=match)

    assert good(reading).unit_width == Length.mm(914)
    assert reading.matched == {
        "mark": "Fenster", "unit_width": "Breite", "unit_height": "Hoehe", "count": "Anzahl",
    }  # fmt: skip


def test_matched_header_wins_over_a_synonym() -> None:
    reading = read("Mark,Width,Height,No.\nW1,36,60,3\n", match={"No.": "count"})

    assert [opening.mark for opening in reading.openings] == ["W101", "W102", "W103"]


def test_match_to_ignore_puts_a_column_aside() -> None:
    reading = read("Mark,Width,Height,Glass\nW1,36,60,Low-E\n", match={"Glass": "ignore"})

    assert good(reading).glass is None
    assert "Glass" in reading.unmatched


def test_match_to_an_unknown_column_is_refused() -> None:
    reading = read("Mark,Width,Height\nW1,36,60\n", match={"Width": "breadth"})

    assert reading.openings == ()
    assert "“breadth” is no column" in reading.problems[0].problem
    assert reading.problems[0].value == "breadth"


def test_what_is_matched_by_hand_though_it_is_not_there_is_a_notice() -> None:
    match = {"Finish": "note", "Mark": "mark"}
    reading = read("Mark,Width,Height\nW1,36,60\n", match=match)

    assert good(reading).mark == "W1"
    assert unused_match(reading, match) == ("Matched headers that the file has not: Finish.",)
    # what a builder's headers were once is no news about this file
    assert not any("has not" in notice for notice in reading.notices)


def test_two_columns_of_the_same_name_are_refused_with_both_named() -> None:
    reading = read("mark,unit_width,unit_height,mark\nW1,36,60,W2\n")

    assert reading.openings == ()
    (problem,) = reading.problems
    assert (problem.row, problem.column) == (1, "mark")
    assert "column A" in problem.problem
    assert "column D" in problem.problem


def test_two_synonyms_of_one_column_are_refused_not_guessed() -> None:
    reading = read("mark,unit_width,unit_height,Qty,Pcs\nW1,36,60,2,3\n")

    assert refused(reading) == [(1, "count")]
    assert reading.openings == ()


def test_surer_header_wins_and_the_other_is_said_to_be_unread() -> None:
    reading = read("No.,Mark,Frame width,Frame height,Width\n1,W1,36,60,99\n")

    assert good(reading).mark == "W1"
    assert reading.unmatched == ("No.", "Width")
    assert any("No., Width" in notice for notice in reading.notices)


def test_several_columns_of_remarks_become_one_note() -> None:
    reading = read("mark,unit_width,unit_height,Remarks,Comment\nW1,36,60,tempered, bath \nW2,36,60,,stair\n")

    assert [opening.note for opening in reading.openings] == ["tempered; bath", "stair"]


def test_plain_widths_are_said_to_be_the_units() -> None:
    reading = read("mark,Width,Height\nW1,36,60\n")

    assert any("“Width” and “Height” are read as the unit's" in notice for notice in reading.notices)


def test_unknown_columns_are_a_notice_and_ignored() -> None:
    reading = read("mark,unit_width,unit_height,U-value,Type\nW1,36,60,0.28,SH\n")

    assert good(reading).mark == "W1"
    assert "Columns that are not read: U-value, Type." in reading.notices


def test_height_first_pairs_are_turned_and_said() -> None:
    reading = read("mark,R.O. (H x W)\nW1,60 1/2 x 36 1/2\n")

    assert good(reading).ro_width == Length.inches(36.5)
    assert any("height first" in notice for notice in reading.notices)


def test_line_breaks_inside_a_header_do_not_matter() -> None:
    reading = read('mark,"R.O.\n(W x H)",note\nW1,36 1/2 x 60 1/2,"two\nlines"\nW2,bad,\n')

    assert reading.openings[0].note == "two\nlines"
    # a quoted line break is inside one spreadsheet row
    assert refused(reading) == [(3, "ro_size")]


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        ("R.O. (W x H)", "ro wxh"),
        ("No.", "no"),
        ("Window #", "window no"),
        ("Maker's  MAX\nspacing", "makers max spacing"),
    ],
)
def test_headers_are_compared_without_marks_and_case(header: str, expected: str) -> None:
    assert plain(header) == expected
