"""Workbooks: sheets, cells of every type, merges, formulas, dates, units shown by a format."""

from __future__ import annotations

import re

import openpyxl
import pytest

from openings.schedule.limits import NO_SCHEDULE
from projects.quantities.length import Length
from tests.openings.schedule.builders import (
    RAW_ROWS,
    RAW_STRINGS,
    SIMPLE_ROWS,
    good,
    part_of,
    raw_workbook,
    read,
    refused,
    saved,
    simple_workbook,
    with_parts,
    workbook,
)

HEADER = ["mark", "unit_width", "unit_height", "count", "note"]


def test_first_sheet_with_a_header_is_read_and_said() -> None:
    content = workbook(("Cover", [["Project", "Maple"]]), ("Windows", SIMPLE_ROWS), ("Doors", [["x"]]))
    reading = read(content)

    assert good(reading).mark == "W1"
    assert (reading.sheet, reading.sheets) == ("Windows", ("Cover", "Windows", "Doors"))
    assert "Sheet “Windows” is read; not read: Cover, Doors." in reading.notices


def test_named_sheet_is_read() -> None:
    content = workbook(("A", SIMPLE_ROWS), ("B", [SIMPLE_ROWS[0], ["X9", 36, 60]]))

    assert good(read(content, sheet="B")).mark == "X9"
    assert good(read(content, sheet=" b ")).mark == "X9"


def test_unknown_sheet_is_refused_with_the_names() -> None:
    reading = read(workbook(("A", SIMPLE_ROWS), ("B", SIMPLE_ROWS)), sheet="C")

    assert reading.refusal == NO_SCHEDULE
    assert "A, B" in reading.problems[0].remedy


def test_hidden_sheet_comes_after_the_visible_ones() -> None:
    book = openpyxl.Workbook()
    hidden = book.active
    hidden.title = "Old"
    visible = book.create_sheet("New")
    for sheet, mark in ((hidden, "OLD"), (visible, "NEW")):
        sheet.append(["mark", "unit_width", "unit_height"])
        sheet.append([mark, 36, 60])
    hidden.sheet_state = "hidden"

    assert good(read(saved(book))).mark == "NEW"


def test_sheet_of_a_text_file_is_a_notice() -> None:
    reading = read("mark,size\nW1,3050\n", sheet="B")

    assert good(reading).mark == "W1"
    assert any("no sheets" in notice for notice in reading.notices)


def test_rows_keep_the_spreadsheets_numbers_over_gaps() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    for column, header in enumerate(HEADER, start=2):
        sheet.cell(5, column, header)
    sheet.cell(9, 2, "W1"), sheet.cell(9, 3, "abc"), sheet.cell(9, 4, 60)
    sheet.cell(40, 2, "W2"), sheet.cell(40, 3, 36), sheet.cell(40, 4, 60)
    reading = read(saved(book))

    assert reading.header_row == 5
    assert refused(reading) == [(9, "unit_width")]
    assert reading.openings[0].row == 40


def test_merged_title_and_merged_elevation_are_read() -> None:
    rows = [
        ["Lot 12 - windows", None, None, None],
        ["Elevation", "Mark", "Frame W", "Frame H"],
        ["North", "N1", 36, 60],
        [None, "N2", 36, 60],
        [None, "N3", 36, 60],
        [None, None, None, None],
        ["South", "S1", 36, 60],
    ]
    reading = read(workbook(("A", rows), merges=["A1:D1", "A3:A6"]))

    assert reading.problems == ()
    assert [opening.elevation for opening in reading.openings] == ["North", "North", "North", "South"]


def test_merge_at_the_end_of_a_row_reaches_shorter_rows() -> None:
    rows = [["mark", "unit_width", "unit_height", "fin"], ["W1", 36, 60, "folding"], ["W2", 36, 60, None]]
    reading = read(workbook(("A", rows), merges=["D2:D3"]))

    assert [opening.fin for opening in reading.openings] == ["folding", "folding"]


def test_twenty_thousand_merges_are_read() -> None:
    merges = "".join(f'<mergeCell ref="A{row}:A{row + 1}"/>' for row in range(3, 40_003, 2))
    content = raw_workbook(RAW_ROWS, RAW_STRINGS)
    sheet = part_of(content, "xl/worksheets/sheet1.xml").replace(
        b"</sheetData>", f"</sheetData><mergeCells>{merges}</mergeCells>".encode()
    )

    assert good(read(with_parts(content, {"xl/worksheets/sheet1.xml": sheet}))).mark == "W1"


def test_merged_group_headers_are_read() -> None:
    rows = [
        ["MARK", "ROUGH OPENING", None, "QTY", "FIN"],
        [None, "WIDTH", "HEIGHT", None, None],
        ["W1", 36.5, 60.5, 1, "folding"],
    ]
    merges = ["A1:A2", "B1:C1", "D1:D2", "E1:E2"]
    opening = good(read(workbook(("A", rows), merges=merges)))

    assert (opening.ro_width, opening.fin) == (Length.inches(36.5), "folding")


def test_strings_kept_in_a_table_are_read() -> None:
    assert good(read(raw_workbook(RAW_ROWS, RAW_STRINGS))).mark == "W1"


def test_cells_and_rows_without_references_are_counted() -> None:
    bare = re.sub(r' r="[A-Z]?[0-9]"', "", RAW_ROWS)

    assert good(read(raw_workbook(bare, RAW_STRINGS))).row == 2


def test_prefixed_elements_are_read() -> None:
    content = raw_workbook(RAW_ROWS, RAW_STRINGS)
    sheet = part_of(content, "xl/worksheets/sheet1.xml")
    prefixed = (
        re.sub(rb"<(/?)(\w)", rb"<\1x:\2", sheet).replace(b"xmlns=", b"xmlns:x=").replace(b"<?x:", b"<?")
    )

    assert good(read(with_parts(content, {"xl/worksheets/sheet1.xml": prefixed}))).mark == "W1"


def test_escaped_characters_of_a_workbook_are_decoded() -> None:
    bell = raw_workbook(RAW_ROWS, RAW_STRINGS.replace("W1", "W_x0007_1"))
    letter = raw_workbook(RAW_ROWS, RAW_STRINGS.replace("W1", "W_x0041_"))

    assert refused(read(bell)) == [(2, "mark")]
    assert good(read(letter)).mark == "WA"


def test_rich_and_phonetic_text_is_read_once() -> None:
    rich = '<si><r><t>W</t></r><r><rPr><b/></rPr><t>1</t></r><rPh sb="0" eb="1"><t>x</t></rPh></si>'
    strings = RAW_STRINGS.replace("<si><t>W1</t></si>", rich)

    assert good(read(raw_workbook(RAW_ROWS, strings))).mark == "W1"


@pytest.mark.parametrize(
    ("old", "new"),
    [("<v>3</v>", "<v>99</v>"), ("<v>3</v>", "<v>x</v>"), ("<v>36</v>", "<v>٣</v>"),
     ("<v>36</v>", "<v>x</v>"), ("</row>", ""), ('r="2"', 'r="two"'), ('<c r="B2">', '<c r="B2" s="x">')],
)  # fmt: skip
def test_sheet_with_broken_values_is_refused_in_words(old: str, new: str) -> None:
    reading = read(raw_workbook(RAW_ROWS.replace(old, new), RAW_STRINGS))

    assert reading.openings == ()
    assert "Save it again" in reading.problems[0].remedy


@pytest.mark.parametrize(
    ("part", "replaced", "by"),
    [
        ("xl/worksheets/sheet1.xml", b"</sheetData>", b""),
        ("xl/workbook.xml", b"<sheets>", b"<sheets"),
        ("[Content_Types].xml", b"<Override", b"<Overridden"),
    ],
)
def test_broken_workbook_is_refused_in_words(part: str, replaced: bytes, by: bytes) -> None:
    content = simple_workbook()
    broken = part_of(content, part).replace(replaced, by)

    reading = read(with_parts(content, {part: broken}))

    assert reading.openings == ()
    assert "Save it again" in reading.problems[0].remedy
