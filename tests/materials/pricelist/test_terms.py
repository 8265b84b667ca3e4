"""Price breaks and days off as people type them."""

from __future__ import annotations

from datetime import date

import pytest

from materials.pricelist.terms import read_breaks, read_days, write_breaks
from projects.errors import BadValue


@pytest.mark.parametrize(
    "text",
    ["12 at 8.50\n60 at 8", "60 packs at $8.00\n\n 12 : 8.5 ", "12=8.50; 60=8.00", "12 at 8.50, 60 at 8"],
)
def test_breaks_are_read_as_people_type_them(text) -> None:
    assert read_breaks(text, price=9_00) == ((12, 8_50), (60, 8_00))


def test_what_is_written_is_read_again() -> None:
    assert write_breaks([(12, 8_50), (60, 8_05)]) == "12 at 8.50\n60 at 8.05"
    assert read_breaks(write_breaks([(12, 8_50), (60, 8_05)]), price=9_00) == ((12, 8_50), (60, 8_05))
    assert read_breaks("", price=9_00) == ()


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("a dozen at 8", "'a dozen at 8' is no price break."),
        ("12 at 9.00", "From 12 packs on the price does not fall."),
        ("12 at 8.00\n24 at 8.50", "From 24 packs on the price does not fall."),
        ("12 at 8.00\n12 at 7.50", "A break from 12 packs on does not follow one from 12."),
        ("1 at 8.00", "A break from 1 packs on does not follow one from 1."),
    ],
)
def test_a_break_that_can_not_be_says_why(text, problem) -> None:
    with pytest.raises(BadValue) as refused:
        read_breaks(text, price=9_00)

    assert (refused.value.problem, refused.value.parameters["field"]) == (problem, "breaks")


def test_days_off_are_read_once_each_in_their_order() -> None:
    assert read_days("2026-12-25\n2026-07-03, 2026-07-03") == (date(2026, 7, 3), date(2026, 12, 25))
    with pytest.raises(BadValue, match="'4 July' is no day"):
        read_days("4 July")
