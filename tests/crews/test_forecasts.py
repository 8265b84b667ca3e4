"""The weather by quarters: all four or nothing, ranges told in words."""

from __future__ import annotations

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from crews import services
from crews.forms.forecasts import parse_temperature, tenths_from, told_temperature
from crews.models import Forecast
from crews.selectors.weather import DayShown, in_fahrenheit
from projects.errors import BadValue, NotAllowed
from projects.models import Job
from tests.factories.crews import MONDAY, crew_of, face_of, fine_day, house_with

MILD = services.QuarterEntry(temp_tenth_c=150, rh_percent=60, rain=False, wind_mph=5)


def four(**changes):
    return {name: changes.get(name, MILD) for name in services.QUARTERS}


@pytest.mark.django_db
def test_a_day_is_four_quarters(foreman):
    rows = services.set_forecast(by=foreman, place="Alder Row", day=MONDAY, quarters=four())

    assert [row.quarter for row in rows] == ["night", "morning", "afternoon", "evening"]
    assert Forecast.objects.count() == 4


@pytest.mark.django_db
def test_typing_it_again_changes_rows_and_adds_none(foreman, company):
    fine_day(company)
    services.set_forecast(
        by=foreman,
        place="Alder Row",
        day=MONDAY,
        quarters=four(morning=services.QuarterEntry(90, 80, True, 12)),
    )

    morning = Forecast.objects.get(quarter="morning")
    assert (morning.temp_tenth_c, morning.rh_percent, morning.rain, morning.wind_mph) == (90, 80, True, 12)
    assert Forecast.objects.count() == 4


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (services.QuarterEntry(601, 50), "temperature can't be"),
        (services.QuarterEntry(-601, 50), "temperature can't be"),
        (services.QuarterEntry(100, 0), "humidity of 0 %"),
        (services.QuarterEntry(100, 101), "humidity of 101 %"),
        (services.QuarterEntry(100, 50, False, 151), "wind of 151 mph"),
        (services.QuarterEntry(100, 50, False, -1), "wind of -1 mph"),
        (None, "has no weather"),
    ],
)
def test_one_bad_quarter_saves_nothing(foreman, wrong, words):
    quarters = four()
    quarters["evening"] = wrong

    with pytest.raises(BadValue, match=words):
        services.set_forecast(by=foreman, place="Alder Row", day=MONDAY, quarters=quarters)

    assert not Forecast.objects.exists()


@pytest.mark.django_db
def test_new_weather_renews_the_sheet_of_its_day(foreman, company):
    crew = crew_of(company)
    services.assign_crew(by=foreman, crew=crew, elevation=face_of(house_with(company)), day=MONDAY)
    services.plan_day(by=foreman, crew=crew, day=MONDAY)

    services.set_forecast(by=foreman, place="Elsewhere", day=MONDAY, quarters=four())
    assert not Job.objects.exists()
    services.set_forecast(by=foreman, place="Alder Row", day=MONDAY, quarters=four())

    assert Job.objects.get().arguments == {"crew": crew.pk, "day": MONDAY.isoformat()}


@pytest.mark.django_db
def test_crew_people_set_no_weather(hand):
    with pytest.raises(NotAllowed):
        services.set_forecast(by=hand, place="Alder Row", day=MONDAY, quarters=four())


@pytest.mark.parametrize(
    ("text", "tenths"),
    # 48 F = 16 x 5/9 = 8.89 C; 32 F = 0; -4 F = -20 C
    [
        ("48", 89),
        ("48 F", 89),
        ("48°F", 89),
        ("32", 0),
        ("-4", -200),
        ("9 C", 90),
        ("9.5c", 95),
        ("−3 C", -30),
    ],
)
def test_a_temperature_is_fahrenheit_unless_it_says_c(text, tenths):
    assert parse_temperature(text, what="It") == tenths


@pytest.mark.parametrize("text", ["", "warm", "48 K", "4 8", "9,5 C", "1000", "48 F C"])
def test_what_is_no_temperature_is_refused_with_an_example(text):
    with pytest.raises(ValidationError, match="48 for Fahrenheit"):
        parse_temperature(text, what="The morning's temperature")


@given(st.integers(-600, 600))
def test_a_temperature_reads_back_as_it_was_shown(tenths):
    assert parse_temperature(told_temperature(tenths), what="It") == tenths


@given(st.integers(-76, 140))
def test_whole_fahrenheit_stays_whole_fahrenheit(fahrenheit):
    assert in_fahrenheit(tenths_from(fahrenheit)) == fahrenheit


@pytest.mark.django_db
def test_a_day_in_words_tells_rain_wind_and_cold(company):
    rows = fine_day(
        company,
        morning=services.QuarterEntry(20, 80, False, 10),  # 2 C is 35.6 F
        afternoon=services.QuarterEntry(90, 92, True, 28),
    )
    shown = DayShown("Alder Row", MONDAY, {row.quarter: row for row in rows})

    assert shown.span == "36–48°"
    assert shown.marks == ("rain p.m.", "wind 28", "cold a.m.")
    assert shown.humidity == "80 to 92 %"
