"""Rows that hold until the next, and quarters of a day."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from crews.cure.air import Air
from crews.cure.forecast import Forecast, Hour, Quarter, QuarterOfDay, spread_quarters
from projects.errors import BadValue

MILD = Air(temp_c=15, rh=60)
COLD = Air(temp_c=2, rh=80)
MARCH_2 = date(2026, 3, 2)


def at(hour, minute=0, *, day=2):
    return datetime(2026, 3, day, hour, minute)


def test_each_row_holds_until_the_next():
    forecast = Forecast((Hour(at(7), MILD), Hour(at(9), COLD)))

    assert forecast.at(at(8, 59)).air == MILD
    assert forecast.at(at(9)).air == COLD


def test_last_row_holds_as_long_as_the_one_before():
    # Seven to nine is two hours, so the row at nine holds until eleven.
    assert Forecast((Hour(at(7), MILD), Hour(at(9), COLD))).end == at(11)


def test_single_row_holds_for_an_hour():
    assert Forecast((Hour(at(7), MILD),)).end == at(8)


@pytest.mark.parametrize("moment", [at(6, 59), at(11)])
def test_moment_outside_the_forecast_is_refused(moment):
    forecast = Forecast((Hour(at(7), MILD), Hour(at(9), COLD)))

    with pytest.raises(BadValue, match="outside the forecast"):
        forecast.at(moment)


def test_what_is_left_of_the_rows_begins_at_the_start():
    forecast = Forecast((Hour(at(7), MILD), Hour(at(8), MILD), Hour(at(9), COLD)))

    left = [(span.start, span.end) for span in forecast.spans_from(at(8, 30))]

    assert left == [(at(8, 30), at(9)), (at(9), at(10))]


def test_rows_that_go_back_in_time_are_refused():
    with pytest.raises(BadValue, match="does not come after"):
        Forecast((Hour(at(9), MILD), Hour(at(9), COLD)))


def test_forecast_without_rows_is_refused():
    with pytest.raises(BadValue, match="no rows"):
        Forecast(())


def test_time_with_a_zone_is_refused():
    with pytest.raises(BadValue, match="time zone"):
        Hour(datetime(2026, 3, 2, 7, tzinfo=UTC), MILD)


@pytest.mark.parametrize("wind", [-1, float("nan"), float("inf")])
def test_wind_that_cannot_blow_is_refused(wind):
    with pytest.raises(BadValue, match="wind"):
        Hour(at(7), MILD, wind_mph=wind)


def test_quarters_of_a_day_become_its_hours():
    quarters = [Quarter(MARCH_2, quarter, MILD) for quarter in QuarterOfDay]

    forecast = spread_quarters(quarters)

    assert [hour.start for hour in forecast.hours] == [at(0) + timedelta(hours=step) for step in range(24)]
    assert forecast.end == at(0, day=3)


def test_afternoon_weather_begins_at_noon():
    forecast = spread_quarters(
        [
            Quarter(MARCH_2, QuarterOfDay.AFTERNOON, COLD, rain=True, wind_mph=30),
            Quarter(MARCH_2, QuarterOfDay.MORNING, MILD),
        ]
    )

    assert forecast.at(at(11, 59)) == Hour(at(11), MILD)
    assert forecast.at(at(12)) == Hour(at(12), COLD, rain=True, wind_mph=30)


def test_quarter_that_is_missing_keeps_the_weather_before_it():
    forecast = spread_quarters(
        [Quarter(MARCH_2, QuarterOfDay.NIGHT, COLD), Quarter(MARCH_2, QuarterOfDay.EVENING, MILD)]
    )

    assert forecast.at(at(17, 59)).air == COLD
    assert forecast.at(at(18)).air == MILD


def test_quarter_given_twice_is_refused():
    with pytest.raises(BadValue, match="given twice"):
        spread_quarters(
            [Quarter(MARCH_2, QuarterOfDay.NIGHT, COLD), Quarter(MARCH_2, QuarterOfDay.NIGHT, MILD)]
        )
