"""The week's pages: crews on elevations, sent by taps, clashes with two ways out."""

from __future__ import annotations

import re
from datetime import date

import pytest
from django.urls import reverse
from icalendar import Calendar

from crews import services
from crews.models import Assignment, Forecast
from crews.selectors.sending import sending_page
from crews.selectors.week import week_page
from projects.models import Elevation
from tests.factories.crews import MONDAY, TUESDAY, crew_of, face_of, fine_day, house_with

pytestmark = pytest.mark.django_db
WEEK = f"/week/{MONDAY}/"


@pytest.fixture
def red(company):
    return crew_of(company, "RED")


@pytest.fixture
def blue(company):
    return crew_of(company, "BLUE")


@pytest.fixture
def front(company):
    return face_of(house_with(company))


@pytest.fixture
def boss(client, foreman):
    client.force_login(foreman.user)
    return client


def text_of(answer):
    return answer.content.decode()


def buttons(page):
    """Return the addresses that a tap on a day sends to."""
    return re.findall(r'formaction="([^"]+)"', page)


def test_a_company_without_crews_is_offered_the_first(boss):
    assert reverse("crew-create") in text_of(boss.get(reverse("week")))


def test_a_week_without_houses_says_what_comes_first(boss, red):
    assert "No elevation waits for a crew" in text_of(boss.get(reverse("week")))


def test_one_tap_sends_the_chosen_crew(boss, blue, red, front):
    page = text_of(boss.get(f"{WEEK}?crew={red.pk}"))
    address = reverse("assign", args=[front.pk, red.pk, TUESDAY])
    assert address in buttons(page)

    answer = boss.post(address, follow=True)

    assert Assignment.objects.get().date == TUESDAY
    assert answer.redirect_chain[-1][0].endswith(f"#elevation-{front.pk}")
    assert f"crew={red.pk}" in answer.redirect_chain[-1][0]
    assert "RED goes to" in text_of(answer)


def test_a_whole_week_of_four_crews_takes_at_most_25_taps(boss, company):
    crews = [crew_of(company, f"C{number}") for number in range(4)]
    house = house_with(company, *(f"F{number:02d},W{number},36,60,,," for number in range(20)))
    faces = [face_of(house, f"F{number:02d}") for number in range(20)]

    taps = 0
    for crew in crews:
        page = text_of(boss.get(f"{WEEK}?crew={crew.pk}"))
        taps += 1
        for day in range(5):
            address = next(
                a for a in buttons(page) if a.endswith(f"/{MONDAY.replace(day=8 + day)}/")
                and f"/{faces[5 * crews.index(crew) + day].pk}/" in a
            )  # fmt: skip
            page = text_of(boss.post(address, follow=True))
            taps += 1

    assert Assignment.objects.count() == 20
    assert taps <= 25


def test_two_taps_from_an_elevation_send_any_crew(boss, red, front):
    page = text_of(boss.get(WEEK))
    choices = reverse("elevation-crews", args=[front.pk])
    assert choices in page

    page = text_of(boss.get(f"{choices}?from={MONDAY}"))
    boss.post(reverse("assign", args=[front.pk, red.pk, MONDAY]), {"back": "elevation"})

    assert reverse("assign", args=[front.pk, red.pk, MONDAY]) in buttons(page)
    assert Assignment.objects.get().crew == red


def test_a_tap_is_undone_by_the_next_pages_button(boss, red, front):
    page = text_of(boss.post(reverse("assign", args=[front.pk, red.pk, MONDAY]), follow=True))
    undo = reverse("assignment-withdraw", args=[Assignment.objects.get().pk])
    assert f'action="{undo}"' in page

    page = text_of(boss.post(undo, follow=True))

    assert not Assignment.objects.exists()
    again = reverse("assign", args=[front.pk, red.pk, MONDAY])
    assert f'action="{again}"' in page


def test_a_clash_is_told_at_once_with_two_ways_out(boss, foreman, red, blue, front):
    services.assign_crew(by=foreman, crew=red, elevation=front, day=MONDAY)
    row = Assignment.objects.get()

    answer = boss.post(reverse("assign", args=[front.pk, blue.pk, MONDAY]))

    page = text_of(answer)
    assert answer.status_code == 409
    take_over = reverse("assignment-move", args=[row.pk, blue.pk, MONDAY])
    other_day = reverse("assign", args=[front.pk, blue.pk, TUESDAY])
    assert f'action="{take_over}"' in page
    assert other_day in buttons(page)
    assert Assignment.objects.get().crew == red

    boss.post(take_over)

    assert Assignment.objects.get().crew == blue


def test_moving_is_undone_by_moving_back(boss, foreman, red, front):
    row = services.assign_crew(by=foreman, crew=red, elevation=front, day=MONDAY).assignment
    page = text_of(boss.post(reverse("assignment-move", args=[row.pk, red.pk, TUESDAY]), follow=True))

    back = reverse("assignment-move", args=[row.pk, red.pk, MONDAY])
    assert f'action="{back}"' in page


def test_the_crew_is_written_on_the_elevations_own_drawing(boss, foreman, red, front):
    services.assign_crew(by=foreman, crew=red, elevation=front, day=MONDAY)

    page = text_of(boss.get(WEEK))

    cell = page[page.index('class="crew-on-face"') :]
    assert cell.index('<svg class="small-face"') < cell.index("RED</bdi>")


def test_the_weather_stands_above_its_houses(boss, company, red, front):
    fine_day(company, afternoon=services.QuarterEntry(90, 90, True, 28))

    page = text_of(boss.get(WEEK))

    # 23 C is 73.4 F, 9 C is 48.2 F
    assert "48–73°" in page
    assert "rain p.m." in page
    assert "wind 28" in page


def test_what_is_not_ready_is_said_where_it_is_planned(boss, red, front):
    Elevation.objects.update(roof_dried_in=False)

    assert "Not ready: the roof is not dried in" in text_of(boss.get(WEEK))


def test_any_day_of_a_week_leads_to_its_monday(boss, red):
    answer = boss.get(f"/week/{TUESDAY}/")

    assert answer.status_code == 302
    assert answer["Location"] == WEEK


@pytest.mark.parametrize("query", ["?crew=x", "?crew=99999999999999999999", "?crew=-1", "?crew=²"])
def test_a_crew_that_is_none_falls_back_to_the_first(boss, red, front, query):
    assert boss.get(WEEK + query).status_code == 200


def test_a_page_that_is_none_is_not_there(boss, red, front):
    assert boss.get(f"{WEEK}?page=-1").status_code == 404


@pytest.mark.parametrize("rows", [1, 20])
def test_the_week_takes_the_same_queries_at_any_size(company, foreman, rows, django_assert_num_queries):
    crew = crew_of(company)
    for number in range(rows):
        house = house_with(company, f"Face{number},W1,36,60,,,")
        services.assign_crew(by=foreman, crew=crew, elevation=face_of(house, f"Face{number}"), day=MONDAY)

    with django_assert_num_queries(11):
        page = week_page(company, MONDAY)

    assert page.sent == rows


@pytest.mark.parametrize("rows", [1, 20])
def test_an_elevations_choices_take_the_same_queries_at_any_size(company, rows, django_assert_num_queries):
    for number in range(rows):
        crew_of(company, f"C{number}")
    face = face_of(house_with(company, *(f"Front,W{number},36,60,,," for number in range(rows))))

    with django_assert_num_queries(9):
        page = sending_page(company, face.pk, MONDAY)

    assert len(page.rows) == rows


def test_the_weather_is_typed_in_and_read_back(boss, company, front):
    address = f"{reverse('forecast', args=[MONDAY])}?place=Alder%20Row"
    entry = {
        f"{quarter}_{name}": value
        for quarter in services.QUARTERS
        for name, value in (("temp", "50"), ("rh", "60"), ("wind", "5"))
    }

    answer = boss.post(address, {**entry, "morning_rain": "on", "version": "1"})

    assert answer.status_code == 302
    assert Forecast.objects.filter(rain=True).get().quarter == "morning"
    assert 'value="50"' in text_of(boss.get(address))


def test_a_bad_quarter_is_shown_at_its_field_and_saves_nothing(boss, company, front):
    address = f"{reverse('forecast', args=[MONDAY])}?place=Alder%20Row"
    entry = {f"{quarter}_{name}": "60" for quarter in services.QUARTERS for name in ("temp", "rh", "wind")}

    answer = boss.post(address, {**entry, "morning_temp": "warm", "evening_rh": "101"})

    assert answer.status_code == 422
    assert "The morning&#x27;s temperature can&#x27;t be read" in text_of(answer)
    assert not Forecast.objects.exists()

    answer = boss.post(address, {**entry, "evening_rh": "101"})

    assert answer.status_code == 422
    assert "evening_rh" in answer.context["form"].errors
    assert not Forecast.objects.exists()


def test_a_place_that_no_project_names_is_not_there(boss, front):
    assert boss.get(f"{reverse('forecast', args=[MONDAY])}?place=Elsewhere").status_code == 404


def test_the_crews_days_can_be_taken_along_as_a_calendar(client_of, foreman, company):
    red, house = crew_of(company, "RED"), house_with(company, "Front,W1,36,60,,,", "Rear,W2,36,60,,,")
    for face in ("Rear", "Front"):
        services.assign_crew(by=foreman, crew=red, elevation=face_of(house, face), day=MONDAY)

    answer = client_of(foreman).get(reverse("crew-days", args=[TUESDAY]))

    (event,) = Calendar.from_ical(answer.content).walk("VEVENT")
    # one entry for the crew's whole day, from the Monday of that week on, in walking order; a crew's usual
    # day is 7:00 to 15:30, minutes 420 to 930
    assert event["summary"] == f"RED: {house.code} Rear, then {house.code} Front"
    assert (event["dtstart"].dt.isoformat(), f"{event['dtend'].dt:%H:%M}") == (
        "2026-06-08T07:00:00-04:00",
        "15:30",
    )
    assert event["dtstart"].params["TZID"] == company.time_zone
    assert b"VEVENT" not in client_of(foreman).get(reverse("crew-days", args=[date(2026, 6, 15)])).content
