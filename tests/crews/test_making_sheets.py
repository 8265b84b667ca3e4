"""When a sheet is made: by hand, by a change of its day, by the evening before."""

from __future__ import annotations

import datetime as dt
from zoneinfo import ZoneInfo

import pytest
import time_machine

from crews import services
from crews.models import DayPlan
from crews.selectors.sheets import SHEET_KIND
from crews.services.evening import due_days, request_due_sheets
from projects.models import Job
from projects.tasks import run_job
from tests.factories.crews import MONDAY, TUESDAY, crew_of, face_of, fine_day, house_with
from tests.factories.people import CompanyFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def red(company):
    return crew_of(company, "RED")


def test_a_made_sheet_is_renewed_when_its_day_changes(foreman, company, red):
    house = house_with(company, "Front,W1,36,60,,,", "Rear,W2,36,60,,,")
    services.assign_crew(by=foreman, crew=red, elevation=face_of(house), day=MONDAY)
    services.plan_day(by=foreman, crew=red, day=MONDAY)

    services.assign_crew(by=foreman, crew=red, elevation=face_of(house, "Rear"), day=MONDAY)

    assert Job.objects.filter(kind=SHEET_KIND, state="queued").count() == 1


def test_a_day_nobody_made_a_sheet_of_asks_for_none(foreman, company, red):
    services.assign_crew(by=foreman, crew=red, elevation=face_of(house_with(company)), day=MONDAY)

    assert not Job.objects.exists()


def test_the_job_plans_draws_and_is_done_once(foreman, company, red, settings):
    services.assign_crew(by=foreman, crew=red, elevation=face_of(house_with(company)), day=MONDAY)
    job = services.request_sheet(by=foreman, crew=red, day=MONDAY)

    for _ in range(3):
        run_job(job.pk)

    job.refresh_from_db()
    assert (job.state, job.content_type, job.file_name) == ("done", "application/pdf", "red-2026-06-08.pdf")
    assert DayPlan.objects.count() == 1
    assert services.request_sheet(by=foreman, crew=red, day=MONDAY) == job


def test_a_day_that_changed_meanwhile_is_not_drawn_under_the_old_name(foreman, company, red):
    services.assign_crew(by=foreman, crew=red, elevation=face_of(house_with(company)), day=MONDAY)
    job = services.request_sheet(by=foreman, crew=red, day=MONDAY)
    fine_day(company)

    run_job(job.pk)

    job.refresh_from_db()
    assert job.state == "failed"
    assert "Make the sheet anew" in job.error


def test_the_evening_asks_for_tomorrows_sheets_once(foreman, company, red):
    services.assign_crew(by=foreman, crew=red, elevation=face_of(house_with(company)), day=TUESDAY)
    # New York, 18:00: the company's hour; 17:59 is too early
    evening = dt.datetime(2026, 6, 8, 18, 0, tzinfo=ZoneInfo("America/New_York"))

    assert request_due_sheets(evening - dt.timedelta(minutes=1)) == 0
    assert request_due_sheets(evening) == 1
    assert request_due_sheets(evening + dt.timedelta(minutes=5)) == 0
    assert Job.objects.get().arguments == {"crew": red.pk, "day": "2026-06-09"}


def test_a_sheet_that_failed_is_not_tried_all_night(foreman, company, red):
    services.assign_crew(by=foreman, crew=red, elevation=face_of(house_with(company)), day=TUESDAY)
    evening = dt.datetime(2026, 6, 8, 18, 0, tzinfo=ZoneInfo("America/New_York"))
    request_due_sheets(evening)
    Job.objects.update(state="failed")

    assert request_due_sheets(evening + dt.timedelta(minutes=5)) == 0


ZONES = (
    "America/New_York", "America/Phoenix", "America/Los_Angeles", "Europe/London", "Australia/Lord_Howe",
    "Asia/Kathmandu",
)  # fmt: skip


@pytest.mark.parametrize("zone", ZONES)
def test_tomorrow_is_the_calendars_tomorrow_over_every_clock_change(zone):
    company = CompanyFactory(time_zone=zone, sheets_hour=18)
    here = ZoneInfo(zone)

    for number in range(5 * 366):
        day = dt.date(2026, 1, 1) + dt.timedelta(days=number)
        at_seven = dt.datetime.combine(day, dt.time(19), tzinfo=here)
        assert due_days(company, at_seven.astimezone(dt.UTC)) == (day, day + dt.timedelta(days=1))
        at_noon = dt.datetime.combine(day, dt.time(12), tzinfo=here)
        assert due_days(company, at_noon.astimezone(dt.UTC)) == (day, day)


def test_twenty_four_hours_would_miss_a_day_of_twenty_three():
    # negative control: 2026-03-08 has 23 hours in New York, so 23:30 + 24 h is two days later
    late = dt.datetime(2026, 3, 7, 23, 30, tzinfo=ZoneInfo("America/New_York"))

    wrong = (late.astimezone(dt.UTC) + dt.timedelta(hours=24)).astimezone(ZoneInfo("America/New_York")).date()

    assert wrong == dt.date(2026, 3, 9)
    company = CompanyFactory.build(time_zone="America/New_York", sheets_hour=18)
    assert due_days(company, late.astimezone(dt.UTC))[1] == dt.date(2026, 3, 8)


def test_the_worker_asks_by_the_clock_it_has(foreman, company, red):
    from crews.tasks import ask_for_due_sheets

    services.assign_crew(by=foreman, crew=red, elevation=face_of(house_with(company)), day=TUESDAY)

    with time_machine.travel(dt.datetime(2026, 6, 8, 22, 30, tzinfo=dt.UTC), tick=False):
        ask_for_due_sheets()

    assert Job.objects.count() == 1
