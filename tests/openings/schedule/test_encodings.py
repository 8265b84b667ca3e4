"""Text files: encodings, delimiters, line ends, quotes, decimal commas."""

from __future__ import annotations

from fractions import Fraction

import pytest

from openings.schedule.limits import NO_SCHEDULE, WRONG_TYPE
from projects.quantities.length import Length
from tests.openings.schedule.builders import SIZED, good, read, refused

TEXT = "mark,unit_width,unit_height,note\nW1,36½,60,Übergröße – prüfen\n"


@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_every_encoding_reads_the_same(codec: str) -> None:
    opening = good(read(TEXT.encode(codec)))

    assert opening.unit_width == Length.inches(Fraction(73, 2))
    assert opening.note == "Übergröße – prüfen"


def test_cp1252_is_said_and_utf8_is_not() -> None:
    assert any("Windows-1252" in notice for notice in read(TEXT.encode("cp1252")).notices)
    assert not any("Windows-1252" in notice for notice in read(TEXT.encode()).notices)


def test_byte_order_mark_is_no_part_of_the_first_header() -> None:
    assert read("\ufeffmark,size\nW1,3050\n".encode()).matched["mark"] == "mark"


def test_letters_that_no_encoding_reads_are_refused() -> None:
    # 0x81 is neither UTF-8 here nor in Windows-1252
    reading = read(b"mark,size\nW\x81,3050\n")

    assert reading.refusal == NO_SCHEDULE
    assert "UTF-8" in reading.problems[0].remedy


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_every_delimiter_is_found_by_the_header(delimiter: str) -> None:
    text = f"{SIZED},note\nW1,36,60,x\n".replace(",", delimiter)

    assert good(read(text)).note == "x"


def test_commas_inside_cells_do_not_hide_a_semicolon() -> None:
    text = "Title, rev C, of today, and more\nmark;unit_width;unit_height;note\nW1;36;60;a, b, c, d, e, f\n"

    assert good(read(text)).note == "a, b, c, d, e, f"


def test_separator_line_of_a_spreadsheet_is_obeyed_and_is_no_row() -> None:
    reading = read("sep=;\nmark;unit_width;unit_height\nW1;abc;60\n")

    assert reading.header_row == 1
    assert refused(reading) == [(2, "unit_width")]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_every_line_end_is_read(end: str) -> None:
    text = end.join([SIZED, "W1,36,60", "", "W2,abc,60", ""])

    assert refused(read(text)) == [(4, "unit_width")]


def test_inch_marks_outside_quotes_are_literal() -> None:
    opening = good(read("mark,ro_size,note\nW1,3'-0 1/2\" x 5'-0 1/2\",a\n"))

    assert opening.ro_width == Length.inches(36.5)


def test_quotation_mark_that_never_closes_is_refused_with_its_row() -> None:
    reading = read(f'{SIZED},note\nW1,36,60,\nW2,36,60,"open\nW3,36,60,\nW4,36,60,\n')

    assert reading.openings == ()
    (problem,) = reading.problems
    assert problem.row == 3
    assert "never closed" in problem.problem


def test_cell_of_endless_text_is_refused_with_its_row() -> None:
    reading = read(f'{SIZED},note\nW1,36,60,"{"x" * 200_000}"\n')

    assert reading.openings == ()
    assert reading.problems[0].row == 2


def test_decimal_comma_is_read_where_the_whole_file_uses_it_and_is_said() -> None:
    reading = read(
        "mark;unit_width;unit_height;weight_lb;glass\nW1;1,8 m;1200 mm;45,5;2x3,2mm\nW2;36,5;60;;\n"
    )

    first, second = reading.openings
    assert first.unit_width == Length.mm(1800)
    assert first.glass is not None
    assert first.glass.thickness == Length.mm(Fraction("3.2"))
    assert second.unit_width == Length.inches(36.5)
    assert any("comma are read as decimals" in notice for notice in reading.notices)


@pytest.mark.parametrize("other", ["36.5", "36 1/2", "36½"])
def test_one_decimal_point_or_fraction_makes_every_comma_a_problem(other: str) -> None:
    reading = read(f"mark;unit_width;unit_height\nW1;1,8 m;1200 mm\nW2;{other};60\n")

    assert refused(reading) == [(2, "unit_width")]
    assert "comma" in reading.problems[0].problem
    assert [opening.mark for opening in reading.openings] == ["W2"]


@pytest.mark.parametrize("thousands", ["1,200 mm", "1,524", "10,000"])
def test_comma_that_may_part_thousands_is_never_guessed(thousands: str) -> None:
    reading = read(f"mark;unit_width;unit_height\nW1;{thousands};60\n")

    assert refused(reading) == [(2, "unit_width")]


def test_metres_with_three_decimals_are_decimals() -> None:
    assert good(read("mark;unit_width;unit_height\nW1;1,524 m;0,914 m\n")).unit_width == Length.mm(1524)


def test_commas_in_notes_say_nothing_about_decimals() -> None:
    reading = read('mark,unit_width,unit_height,note\nW1,36.5,60,"1,5 by others"\n')

    assert reading.problems == ()
    assert not any("comma" in notice for notice in reading.notices)


@pytest.mark.parametrize(
    "content",
    [
        b"MZ\x90\x00\x03\x00\x00\x00\x04\x00" + b"\x00" * 200,
        b"\x7fELF\x02\x01\x01" + b"\x00" * 64,
        b"%PDF-1.7\n1 0 obj\n",
        b"\x89PNG\r\n\x1a\n" + b"\x00" * 32,
        b"\xff\xd8\xff\xe0" + b"\x00" * 32,
        b"GIF89a" + b"\x00\x01" * 30,
        b"PK\x07\x08" + b"\x00\x01" * 30,
        b'<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>',
        b'<?xml version="1.0"?><!DOCTYPE x><x/>',
        b"  <html><table><tr><td>mark</td></tr></table></html>",
        b"{\\rtf1 mark}",
        bytes(range(256)) * 8,
        b"\x00" * 500,
    ],
)
def test_file_that_is_no_schedule_by_content_is_refused_with_the_accepted_types(content: bytes) -> None:
    for filename in ("schedule.csv", "schedule.xlsx"):
        reading = read(content, filename=filename)
        assert reading.refusal == WRONG_TYPE
        assert "CSV" in reading.problems[0].remedy
        assert ".xlsx" in reading.problems[0].remedy
        assert reading.openings == ()


def test_content_decides_and_not_the_name() -> None:
    assert good(read("mark,size\nBM1,3050\n", filename="photo.png")).mark == "BM1"
    assert good(read("BM,mark,size\nx,MZ1,3050\n", filename="a.xlsx")).mark == "MZ1"
