"""The foreman's way, on a phone: crews sent, the weather typed in, the day's sheet read on site."""

from __future__ import annotations

import re

import pytest

from crews import services
from crews.models import Assignment, Crew, Forecast
from projects.models import Elevation
from tests.browser import chromium, site
from tests.browser.hand import Hand


@pytest.fixture
def foreman(visit):
    return Hand(visit.open("foreman", size=chromium.PHONE, has_touch=True, is_mobile=True))


def test_a_crew_is_sent_to_an_elevation_with_two_taps(visit, foreman):
    monday = visit.demo.days["day"]
    face = Elevation.objects.get(house__code="PM-14", name="Rear")

    foreman.press("Week", exact=True)
    foreman.press(f"PM-14 Rear on {monday:%a} {monday.day} {monday:%b}")

    assert foreman.pressed == 2
    assert Assignment.objects.get(elevation=face).date == monday


def test_two_crews_on_one_wall_are_told_at_once_with_two_ways_out(visit, foreman):
    monday = visit.demo.days["day"]
    face = Elevation.objects.get(house__code="PM-14", name="Rear")
    first, second = Crew.objects.filter(company=visit.demo.company).order_by("pk")[:2]

    visit.go(foreman.page, f"/elevations/{face.pk}/crews/?from={monday}")
    # meanwhile somebody else sends another crew there
    services.assign_crew(by=visit.demo.people["foreman"], crew=first, elevation=face, day=monday)
    foreman.press(f"Send {second.code} on {monday:%a} {monday.day} {monday:%b}")
    foreman.page.get_by_role("alert").wait_for()

    assert f"{second.code} takes over from {first.code}" in foreman.sees
    assert f"Leave it to {first.code}" in foreman.sees
    assert foreman.page.evaluate("() => document.activeElement.getAttribute('role')") == "alert"
    assert Assignment.objects.get(elevation=face).crew == first


def test_the_days_sheet_on_the_phone_says_when_to_wait_and_where_to_stop(visit, foreman):
    crew, day = visit.demo.things["crew"](), visit.demo.days["day"]

    visit.go(foreman.page, f"/crews/{crew.pk}/{day}/")

    assert "Load before you leave" in foreman.sees
    assert "Hold points: stop until they have looked" in foreman.sees
    # every method waits after the back bead or before the face bead
    assert foreman.page.get_by_text("Not before").count() > 0
    first = foreman.page.locator("details.visit").first
    assert first.get_attribute("open") is not None


def test_changed_weather_makes_the_sheet_anew(visit, foreman):
    crew, day = visit.demo.things["crew"](), visit.demo.days["day"]
    sent = Assignment.objects.filter(crew=crew, date=day).earliest("position")
    place = sent.elevation.house.project.weather_place
    sheet = f"/crews/{crew.pk}/{day}/"
    visit.go(foreman.page, sheet)
    before = made_from(foreman)

    visit.go(foreman.page, f"/weather/{day}/?place={place}")
    foreman.page.get_by_label("Temperature").nth(2).fill("81")
    foreman.press("Save this day")

    # 81 °F is 27.2 °C
    assert Forecast.objects.get(place=place, date=day, quarter="afternoon").temp_tenth_c == 272
    visit.go(foreman.page, sheet)
    assert "The sheet is next in line" in foreman.sees
    assert made_from(foreman) == before
    site.make_sheets(visit.demo.company, crew)
    # the open page asks by itself, and shows the new sheet
    foreman.page.get_by_role("link", name="Open the PDF").wait_for()
    assert made_from(foreman) != before


def made_from(foreman):
    """Return what the shown sheet says that it was made from."""
    return re.search(r"inputs (\w+)", foreman.sees)[1]
