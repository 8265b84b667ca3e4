"""Call sizes: feet and inches in one number, width first, one reading or none."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from openings.takeoff.specification import DEFAULT
from projects.quantities.length import Length
from tests.openings.schedule.builders import good, read, refused, sizes

CALL_IS_RO = replace(DEFAULT, call_size_is="ro")


@pytest.mark.parametrize(
    ("call", "width", "height"),
    [
        ("3050", "36", "60"),  # 3'-0" x 5'-0"
        ("2856", "32", "66"),  # 2'-8" x 5'-6"
        ("210-48", "34", "56"),  # 2'-10" x 4'-8"
        ("30-411", "36", "59"),  # 3'-0" x 4'-11"
        ("211-211", "35", "35"),
        ("30-50", "36", "60"),
        ("30 - 50", "36", "60"),
        ("0808", "8", "8"),
        ("210410", "34", "58"),  # 2'-10" x 4'-10": six digits have one reading
        ("3'-0\" x 5'-0\"", "36", "60"),
        ("36 1/2 x 60", "73/2", "60"),
        ("4040 XO", "48", "48"),  # how it opens, behind the size
        ("3050SH", "36", "60"),
        ("210-48 DH", "34", "56"),
    ],
)
def test_call_size_is_feet_and_inches_width_first(call: str, width: str, height: str) -> None:
    cell = call.replace('"', '""')
    assert sizes(read(f'mark,size\nW1,"{cell}"\n'))[:2] == (width, height)


@pytest.mark.parametrize(
    "call",
    [
        "30500",
        "21048",
        "350",
        "30-5-0",
        "212-48",
        "30x50",
        "36 x 60",
        "3-5",
        "abcd",
        "30,50",
        "٣٠٥٠",
        "40/50",
    ],
)
def test_call_size_with_two_or_no_readings_is_refused(call: str) -> None:
    reading = read(f'mark,size\nW1,"{call}"\n')

    assert refused(reading)[0] == (2, "size")
    assert reading.openings == ()


def test_five_digits_are_refused_with_the_way_out() -> None:
    (problem,) = read("mark,size\nW1,30500\n").problems

    assert "five digits" in problem.problem
    assert "210-48" in problem.remedy


def test_call_size_means_the_unit_or_the_rough_opening_and_is_echoed() -> None:
    as_unit = read("mark,size\nW1,3050\nW2,2040\n")
    as_ro = read("mark,size\nW1,3050\n", specification=CALL_IS_RO)

    assert as_unit.openings[0].unit_width == Length.inches(36)
    assert sizes(as_ro) == ("71/2", "119/2", "36", "60")
    assert sum("call_size_is = unit" in notice for notice in as_unit.notices) == 1
    assert any("call_size_is = ro" in notice for notice in as_ro.notices)


def test_call_size_that_disagrees_with_a_given_size_is_refused() -> None:
    reading = read("mark,size,unit_width,unit_height\nW1,3050,36,60\nW2,3050,36,61\nW3,3050,37,61\n")

    assert [opening.mark for opening in reading.openings] == ["W1"]
    assert refused(reading) == [(3, "size"), (4, "size"), (4, "size")]
    assert "disagrees" in reading.problems[0].problem


def test_call_size_stands_beside_a_rough_opening() -> None:
    assert sizes(read("mark,size,ro_size\nW1,3050,36 3/4 x 60 3/4\n")) == ("36", "60", "147/4", "243/4")


@given(st.integers(0, 9), st.integers(0, 11), st.integers(0, 9), st.integers(0, 11))
@settings(deadline=None)
def test_any_parted_call_size_is_read_as_its_feet_and_inches(fw: int, iw: int, fh: int, ih: int) -> None:
    reading = read(f"mark,size\nW1,{fw}{iw}-{fh}{ih}\n")
    width, height = 12 * fw + iw, 12 * fh + ih

    if min(width, height) < 6:
        assert reading.openings == ()
        return
    opening = good(reading)
    assert (opening.unit_width, opening.unit_height) == (Length.inches(width), Length.inches(height))
