"""Forecast files as people save them."""

from __future__ import annotations

from datetime import datetime

import pytest

from crews.cure.rows import parse_local_time, parse_number, read_forecast
from projects.errors import BadValue

GOOD = "time,temp_c,rh\n2026-03-02T07:00,5,80\n2026-03-02T08:00,6.5,75\n"


def test_good_file_becomes_its_rows():
    reading = read_forecast(GOOD)

    assert [(hour.start.hour, hour.air.temp_c, hour.air.rh) for hour in reading.forecast.hours] == [
        (7, 5.0, 80.0),
        (8, 6.5, 75.0),
    ]
    assert reading.problems == ()


def test_columns_may_stand_in_any_order_and_case():
    reading = read_forecast("\ufeffRH,Time,Temp C\n80,2026-03-02 07:00,5\n70,2026-03-02 08:00,6\n")

    assert reading.forecast.hours[0].air.rh == 80


def test_times_are_kept_as_the_file_writes_them():
    assert read_forecast(GOOD).times == ("2026-03-02T07:00", "2026-03-02T08:00")


def test_every_bad_row_is_told_with_its_number():
    reading = read_forecast(
        "time,temp_c,rh\n2026-03-02T07:00,5,80\n\nnoon,5,80\n2026-03-02T08:00,warm,80\n"
        "2026-03-02T09:00,5,180\n2026-03-02T06:00,5,80\n2026-03-02T10:00,500,80\n2026-03-02T11:00,5\n"
    )

    assert reading.forecast is None
    assert [(problem.row, problem.column) for problem in reading.problems] == [
        (4, "time"),
        (5, "temp_c"),
        (6, "rh"),
        (7, "time"),
        (8, "temp_c"),
        (9, "rh"),
    ]
    assert all(problem.remedy for problem in reading.problems)


@pytest.mark.parametrize(
    "text", ["", "a,b\n1,2\n", "time,temp_c\n2026-03-02T07:00,5\n", "time,time,temp_c,rh\n"]
)
def test_file_without_its_header_is_refused(text):
    reading = read_forecast(text)

    assert reading.forecast is None
    assert reading.problems[0].row == 1


def test_header_without_rows_is_refused():
    assert read_forecast("time,temp_c,rh\n").forecast is None


def test_unknown_column_is_a_notice():
    reading = read_forecast("time,temp_c,rh,cloud\n2026-03-02T07:00,5,80,8\n2026-03-02T08:00,5,80,8\n")

    assert reading.notices == ("Columns not read: cloud.",)


def test_single_row_is_a_notice():
    assert "an hour" in read_forecast("time,temp_c,rh\n2026-03-02T07:00,5,80\n").notices[0]


@pytest.mark.parametrize(
    ("text", "value"), [("23", 23.0), ("-4.5", -4.5), (" 1e-3 ", 0.001), (".5", 0.5), ("+7.", 7.0)]
)
def test_plain_numbers_are_read(text, value):
    assert parse_number(text, what="rh") == value


@pytest.mark.parametrize(
    "text", ["", "nan", "inf", "1e999", "1_000", "٣", "½", "0x10", "5,5", "--5", "9" * 400]
)
def test_what_is_no_plain_number_is_refused(text):
    with pytest.raises(BadValue, match="not a number"):
        parse_number(text, what="rh")


@pytest.mark.parametrize(
    "text", ["", "noon", "2026-03-02T07:00Z", "2026-03-02T07:00+01:00", "2026-02-30T07:00"]
)
def test_what_is_no_local_time_is_refused(text):
    with pytest.raises(BadValue, match="not a local time"):
        parse_local_time(text)


def test_local_time_is_read_with_a_space_too():
    assert parse_local_time("2026-03-02 07:30") == datetime(2026, 3, 2, 7, 30)
