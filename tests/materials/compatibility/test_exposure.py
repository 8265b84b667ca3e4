"""Cover-by dates and the age of sheets, worked by hand on the calendar."""

from __future__ import annotations

from datetime import date

import pytest

from materials.compatibility.exposure import Limit, cover_by, months_before, shortest, usual_limit

SIXTY = Limit(60, "Flashing membrane 9 in", "P", "application sheet 5")


def test_cover_by_is_the_last_membrane_day_and_the_limit():
    # Mon 8 June 2026 + 60 days: 22 left in June, 31 of July are 53, and 7 of August
    assert cover_by(date(2026, 6, 8), SIXTY) == date(2026, 8, 7)
    # over the end of a leap year's February: 10 February + 30 days, 19 left in February, 11 of March
    assert cover_by(date(2028, 2, 10), usual_limit("any")) == date(2028, 3, 11)


def test_what_holds_without_a_sheet_says_that_it_has_no_source():
    limit = usual_limit("Flashing membrane 9 in")

    # common practice, no source
    assert (limit.days, limit.grade) == (30, "C")
    assert limit.told == "Flashing membrane 9 in: C, common practice, no source"


def test_the_shortest_limit_holds_for_what_lies_together():
    usual = usual_limit("Flashing membrane 12 in")

    assert shortest([SIXTY, usual]) is shortest([usual, SIXTY]) is usual
    assert shortest([SIXTY, Limit(60, "other", "P", "other")]) is SIXTY


@pytest.mark.parametrize(
    ("day", "months", "expected"),
    [
        (date(2026, 6, 8), 24, date(2024, 6, 8)),
        (date(2026, 1, 15), 1, date(2025, 12, 15)),
        (date(2026, 12, 31), 1, date(2026, 11, 30)),
        (date(2026, 3, 31), 1, date(2026, 2, 28)),
        (date(2028, 3, 31), 1, date(2028, 2, 29)),
        (date(2026, 12, 31), 12, date(2025, 12, 31)),
        (date(2028, 2, 29), 12, date(2027, 2, 28)),
    ],
)
def test_so_many_months_before_a_day(day, months, expected):
    assert months_before(day, months) == expected
