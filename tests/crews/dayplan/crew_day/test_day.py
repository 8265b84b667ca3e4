"""Which minutes of a day are worked."""

from __future__ import annotations

import pytest

from crews.dayplan.crew_day.day import (
    ClockSpan,
    CrewDay,
    clock,
    cut_out,
    first_fit,
    worked_minutes,
    worked_spans,
)
from projects.errors import BadValue
from tests.crews.dayplan.crew_day.days import MARCH_2


def test_default_day_works_375_of_480_minutes():
    # Field guide 8: 105 of 480 min a day are set-up, truck and clean-up.
    spans = worked_spans(CrewDay(MARCH_2, 2))

    assert spans == (ClockSpan(480, 720), ClockSpan(750, 885))
    assert worked_minutes(spans, 0, end=1440) == 375


def test_hole_in_the_middle_cuts_a_span_in_two():
    assert cut_out([ClockSpan(0, 100)], [ClockSpan(40, 60)]) == (ClockSpan(0, 40), ClockSpan(60, 100))


def test_hole_over_an_edge_shortens_a_span():
    assert cut_out([ClockSpan(50, 100)], [ClockSpan(0, 60), ClockSpan(90, 200)]) == (ClockSpan(60, 90),)


def test_hole_as_large_as_the_span_leaves_nothing():
    assert cut_out([ClockSpan(50, 100)], [ClockSpan(50, 100)]) == ()


@pytest.mark.parametrize(("earliest", "start"), [(0, 10), (15, 15), (16, 40), (50, 50), (51, None)])
def test_work_fits_into_the_first_span_that_is_long_enough(earliest, start):
    # 5 min in 10-20 or 40-55.
    assert first_fit([ClockSpan(10, 20), ClockSpan(40, 55)], earliest, minutes=5) == start


def test_minutes_are_told_as_clock_time():
    assert (clock(545), clock(0), clock(1440)) == ("9:05", "0:00", "24:00")


@pytest.mark.parametrize(
    "change",
    [
        {"people": 0},
        {"move": -1},
        {"start": 600, "end": 600},
        {"start": 600, "end": 640, "set_up": 60},
        {"breaks": (ClockSpan(0, 1440),)},
        {"breaks": (ClockSpan(600, 630), ClockSpan(620, 640))},
        {"end": 2000},
    ],
)
def test_day_that_cannot_be_is_refused(change):
    with pytest.raises(BadValue):
        CrewDay(**{"day": MARCH_2, "people": 2, **change})


@pytest.mark.parametrize("span", [(5, 4), (-1, 5), (0, 1441)])
def test_span_that_leaves_the_day_is_refused(span):
    with pytest.raises(BadValue):
        ClockSpan(*span)
