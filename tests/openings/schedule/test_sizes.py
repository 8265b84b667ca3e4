"""Sizes: unit and rough opening, pairs, call sizes, heights, and their limits."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from openings.takeoff.specification import DEFAULT
from projects.quantities.length import Length
from projects.quantities.text import format_feet
from tests.openings.schedule.builders import good, read, refused, sizes


# clearance 1/2: RO = unit + 1/2
def test_rough_opening_is_the_unit_and_the_clearance() -> None:
    assert sizes(read("mark,unit_width,unit_height\nW1,36,60\n")) == ("36", "60", "73/2", "121/2")


def test_unit_is_the_rough_opening_less_the_clearance() -> None:
    assert sizes(read("mark,ro_width,ro_height\nW1,36 1/2,60 1/2\n")) == ("36", "60", "73/2", "121/2")


def test_clearance_is_the_specifications() -> None:
    wider = replace(DEFAULT, clearance=Length.inches(Fraction(3, 4)))

    assert sizes(read("mark,unit_size\nW1,36 x 60\n", specification=wider)) == ("36", "60", "147/4", "243/4")


def test_both_given_are_taken_as_given() -> None:
    text = "mark,unit_width,unit_height,ro_width,ro_height\nW1,36,60,37,61 1/4\n"

    assert sizes(read(text)) == ("36", "60", "37", "245/4")


def test_unit_on_one_side_and_rough_opening_on_the_other_are_enough() -> None:
    assert sizes(read("mark,unit_width,ro_height\nW1,36,60 1/2\n")) == ("36", "60", "73/2", "121/2")


@pytest.mark.parametrize(
    "pair",
    [
        "3'-0 1/2\" x 5'-0 1/2\"",
        "3'-0 1/2\" X 5'-0 1/2\"",
        "3'-0 1/2\" × 5'-0 1/2\"",
        "36 1/2x60 1/2",
        "36.5 by 60.5",
        "36½ x 60½",
        '36 1/2"W x 60 1/2"H',
        '60 1/2" H x 36 1/2" W',
        "927.1 mm x 1536.7 mm",
        "927.1 x 1536.7 mm",
        "927.1mm x 1536.7",
        "92.71 x 153.67 cm",
        "36 1/2 inch x 60 1/2 inch",
    ],
)
def test_pair_in_one_cell_is_width_first(pair: str) -> None:
    # 36 1/2 in = 927.1 mm, 60 1/2 in = 1536.7 mm
    cell = pair.replace('"', '""')
    assert sizes(read(f'mark,ro_size\nW1,"{cell}"\n'))[2:] == ("73/2", "121/2")


@pytest.mark.parametrize(
    "pair", ["36", "36 x", "x 60", "36 x 60 x 4", "36/60", "36 60", "8 x 10'", "8' x 10", "3050"]
)
def test_cell_that_is_no_pair_is_refused(pair: str) -> None:
    reading = read(f"mark,unit_size\nW1,{pair}\n")

    assert (2, "unit_size") in refused(reading)
    assert reading.openings == ()


def test_pair_and_single_sizes_that_disagree_are_refused() -> None:
    assert refused(read("mark,unit_size,unit_width\nW1,36 x 60,37\n")) == [(2, "unit_size")]


def test_missing_side_is_named_by_the_files_own_column() -> None:
    # a mark alone in the first cell would be a heading
    both = read("mark,unit_width,unit_height,count\nW1,,,1\n")
    assert refused(both) == [(2, "unit_width"), (2, "unit_height")]
    assert refused(read("mark,ro_width,ro_height\nW1,36,\n")) == [(2, "ro_height")]
    assert refused(read("mark,ro_size,count\nW1,,1\n")) == [(2, "ro_size")]
    assert refused(read("mark,size,count\nW1,-,1\n")) == [(2, "size")]


def test_side_named_behind_a_length_must_be_its_own() -> None:
    right = read('mark,unit_width,unit_height\nW1,"36""W","60 1/2""H"\n')
    wrong = read('mark,unit_width,unit_height\nW1,"36""H",60\n')

    assert sizes(right)[:2] == ("36", "121/2")
    assert refused(wrong) == [(2, "unit_width")]


def test_problem_shows_the_whole_cell() -> None:
    (problem,) = read("mark,ro_size\nW1, 3-0 x 5-0 \n").problems

    assert problem.value == "3-0 x 5-0"


def test_bad_width_does_not_hide_a_missing_height() -> None:
    reading = read("mark,unit_width,unit_height\nW1,abc,\n")

    assert refused(reading) == [(2, "unit_width"), (2, "unit_height")]


@pytest.mark.parametrize("size", ["6", "240", "152.4 mm", "20'-0\""])
def test_unit_may_have_6_to_240_inches(size: str) -> None:
    cell = size.replace('"', '""')
    assert read(f'mark,unit_width,unit_height\nW1,"{cell}",60\n').problems == ()


@pytest.mark.parametrize("size", ["5 63/64", "240 1/64", "0", "25 m", "1200", "3", "999999999999"])
def test_size_out_of_range_is_refused(size: str) -> None:
    reading = read(f"mark,unit_width,unit_height\nW1,{size},60\n")

    assert refused(reading) == [(2, "unit_width")]
    assert "6 in" in reading.problems[0].problem or "240 in" in reading.problems[0].problem


def test_rough_opening_is_held_to_the_units_range() -> None:
    # 6 1/2 - 1/2 = 6 and 240 1/2 - 1/2 = 240 are the ends; 6 1/4 leaves 5 3/4
    assert read("mark,ro_size\nW1,6 1/2 x 240 1/2\n").problems == ()
    assert refused(read("mark,ro_size\nW1,6 1/4 x 60\n")) == [(2, "ro_size")]
    assert refused(read("mark,ro_size\nW1,60 x 240 3/4\n")) == [(2, "ro_size")]


def test_rough_opening_smaller_than_its_unit_is_refused() -> None:
    reading = read("mark,unit_width,unit_height,ro_width,ro_height\nW1,36,60,35 15/16,60\n")

    assert refused(reading) == [(2, "ro_width")]


def test_rough_opening_far_wider_than_its_unit_is_looked_at() -> None:
    columns = "mark,unit_width,unit_height,ro_width,ro_height\n"
    # 3 in is common enough, 3 1/16 a notice, above 12 in no gap at all
    assert not any("3 in" in notice for notice in read(f"{columns}W1,36,60,39,60\n").notices)
    assert any("more than 3 in" in notice for notice in read(f"{columns}W1,36,60,39 1/16,60\n").notices)
    assert refused(read(f"{columns}W1,36,60,48 1/16,60\n")) == [(2, "ro_width")]


@pytest.mark.parametrize("text", ["2026-06-03", "6/3/2026", "3-Jun", "Jun-03", "3-May-26", "1/2/26"])
def test_date_text_in_a_length_column_is_refused_as_a_date(text: str) -> None:
    (problem,) = read(f"mark,unit_width,unit_height\nW1,{text},60\n").problems

    assert problem.column == "unit_width"
    assert "date" in problem.problem


@pytest.mark.parametrize(
    "text", ["NaN", "Infinity", "1e999", "٣", "-36", "#REF!", "arch 36 rise 9", "3-6", "3-6½"]
)
def test_text_that_is_no_length_is_refused_with_its_value(text: str) -> None:
    (problem,) = read(f"mark,unit_width,unit_height\nW1,{text},60\n").problems

    assert (problem.row, problem.column, problem.value) == (2, "unit_width", text)


# head = sill + RO height: 24 + 60 1/2 = 84 1/2
@pytest.mark.parametrize(
    ("columns", "values", "sill"),
    [
        ("sill_height", "24", "24"),
        ("head_height", "84 1/2", "24"),
        ("sill_height,head_height", "24,84 1/2", "24"),
        ("sill_height,head_height", "24,7'-0 1/2\"", "24"),
        ("sill_height,head_height", "24,84 9/16", "24"),  # 1/16 off is rounding
        ("sill_height", "0", "0"),
        ("head_height", "60 1/2", "0"),
    ],
)
def test_sill_height_is_given_or_follows_from_the_head(columns: str, values: str, sill: str) -> None:
    cells = values.replace('"', '""').split(",")
    row = ",".join(f'"{cell}"' for cell in cells)
    opening = good(read(f"mark,unit_width,unit_height,{columns}\nW1,36,60,{row}\n"))

    assert opening.sill_height == Length.inches(Fraction(sill))


@pytest.mark.parametrize(("sill", "head"), [("24", "84"), ("24", "85"), ("", "60"), ("24", "84 5/8")])
def test_heights_that_disagree_are_refused(sill: str, head: str) -> None:
    reading = read(f"mark,unit_width,unit_height,sill_height,head_height\nW1,36,60,{sill},{head}\n")

    assert refused(reading) == [(2, "head_height")]


@pytest.mark.parametrize("column", ["sill_height", "head_height", "offset"])
@pytest.mark.parametrize("value", ["201'", "abc", "-3", "100 m"])
def test_height_or_offset_out_of_range_is_refused(column: str, value: str) -> None:
    assert refused(read(f"mark,unit_width,unit_height,{column}\nW1,36,60,{value}\n")) == [(2, column)]


@given(st.integers(min_value=16 * 6, max_value=16 * 240), st.integers(min_value=16 * 6, max_value=16 * 240))
@settings(deadline=None)
def test_any_printed_pair_is_read_as_the_same_sizes(width: int, height: int) -> None:
    unit = [Length.inches(Fraction(sixteenths, 16)) for sixteenths in (width, height)]
    cell = f"{format_feet(unit[0])} x {format_feet(unit[1])}".replace('"', '""')

    opening = good(read(f'mark,unit_size\nW1,"{cell}"\n'))

    assert [opening.unit_width, opening.unit_height] == unit
    assert opening.ro_width - opening.unit_width == DEFAULT.clearance
