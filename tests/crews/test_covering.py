"""By when elevations must be covered: the week's list, a house's part, the builder's paper."""

from __future__ import annotations

import datetime as dt
import io

import pytest
from django.urls import reverse
from pypdf import PdfReader

from crews import services
from crews.documents import cover_list_pdf
from crews.selectors.covering import cover_page
from crews.services.covering import request_cover_list
from materials import services as materials
from materials.selectors.orders import local_today
from openings import services as openings
from projects.errors import BadValue, NotAllowed, NotThere
from projects.models import AuditEntry, House, Job
from projects.tasks import run_job
from tests.factories.crews import MONDAY, TUESDAY, crew_of, face_of, house_with
from tests.materials.compatibility.building import a_sheet

pytestmark = pytest.mark.django_db
# Wednesday 10 June 2026, noon in New York
WEDNESDAY = dt.datetime(2026, 6, 10, 16, tzinfo=dt.UTC)
FRIDAY, NEXT_MONDAY = dt.date(2026, 6, 12), dt.date(2026, 6, 15)


@pytest.fixture(autouse=True)
def on_wednesday(time_machine):
    time_machine.move_to(WEDNESDAY, tick=False)


@pytest.fixture
def red(company):
    return crew_of(company, "RED")


@pytest.fixture
def house(company):
    return house_with(company, "Front,W1,36,60,,,", "Rear,W2,36,60,,,", code="LOT-1")


def send(by, crew, house, day, name="Front"):
    face = face_of(house, name)
    services.assign_crew(by=by, crew=crew, elevation=face, day=day)
    return face


def limits(by, days=60, dated=dt.date(2026, 3, 2)):
    """Attach a sheet with a limit for both membranes that an opening of 36 x 60 takes."""
    for material in ("membrane-9in", "membrane-12in"):
        a_sheet(by, material=material, exposure_days=days, title="Sheet 7", dated=dated)


def told(company, **of):
    page = cover_page(company, **of)
    return [(face.elevation.name, face.last_day, face.cover_by, face.days_left) for face in page.faces]


def test_cover_by_is_the_last_crew_day_and_the_sheets_limit(foreman, manager, company, red, house):
    limits(manager)
    send(foreman, red, house, MONDAY)
    send(foreman, red, house, TUESDAY)

    # Tue 9 June + 60 days: 21 left in June, 31 of July are 52, and 8 of August; 58 left from 10 June:
    # 20 + 31 + 8 = 59
    assert told(company) == [("Front", TUESDAY, dt.date(2026, 8, 8), 59)]
    (face,) = cover_page(company).faces
    assert face.limit.grade == "P"


def test_without_a_sheet_common_practice_holds_and_is_shown_with_its_grade(
    foreman, client_of, company, red, house
):
    send(foreman, red, house, MONDAY)

    # Mon 8 June + 30 days (common practice, no source): 22 left in June, 8 of July; 20 + 8 left
    assert told(company) == [("Front", MONDAY, dt.date(2026, 7, 8), 28)]
    page = client_of(foreman).get(reverse("cover-list")).content.decode()
    assert "C, common practice, no source" in page
    assert "Wed 8 Jul 2026" in page


def test_what_has_passed_stands_first_then_what_comes_first(foreman, manager, company, red, house):
    limits(manager, days=1)
    other = house_with(company, "Front,W1,36,60,,,", code="LOT-2")
    send(foreman, red, other, TUESDAY)
    send(foreman, red, house, FRIDAY, "Rear")
    send(foreman, red, house, MONDAY)

    page = cover_page(company)

    # one day after each: 9 June has passed on the 10th, 10 June is the last day, 13 June is to come
    assert [(face.cover_by.day, face.left_told) for face in page.faces] == [
        (9, "passed 1 day ago"),
        (10, "today is the last day"),
        (13, "3 days"),
    ]
    assert page.past == 1
    assert [face.is_done for face in page.faces] == [True, True, False]


def test_the_list_begins_with_the_week_of_the_first_crew_day(foreman, company, red, house):
    send(foreman, red, house, NEXT_MONDAY)
    assert told(company) == []

    # once begun it stays, with the last day that is planned
    send(foreman, red, house, FRIDAY)
    assert [(name, last) for name, last, *_ in told(company)] == [("Front", NEXT_MONDAY)]


def test_the_week_is_the_companys_own(foreman, company, red, house, time_machine):
    send(foreman, red, house, NEXT_MONDAY)

    # Monday 03:00 at Greenwich is still Sunday in New York: next week has not begun
    time_machine.move_to(dt.datetime(2026, 6, 15, 3, tzinfo=dt.UTC), tick=False)
    assert local_today(company) == dt.date(2026, 6, 14)
    assert told(company) == []

    time_machine.move_to(dt.datetime(2026, 6, 15, 5, tzinfo=dt.UTC), tick=False)
    assert len(told(company)) == 1


def test_what_is_covered_leaves_the_list_until_a_crew_comes_again(foreman, company, red, house):
    face = send(foreman, red, house, MONDAY)
    materials.set_covered(by=foreman, elevation=face, on=dt.date(2026, 6, 10))
    assert told(company) == []

    send(foreman, red, house, FRIDAY)
    assert [last for _, last, *_ in told(company)] == [FRIDAY]


def test_covering_is_written_down_once_and_can_be_taken_back(foreman, company, red, house):
    face = send(foreman, red, house, MONDAY)
    today = local_today(company)
    for _ in range(2):
        materials.set_covered(by=foreman, elevation=face, on=today)
    assert AuditEntry.objects.filter(action="set covered").count() == 1

    materials.set_covered(by=foreman, elevation=face, on=None)

    assert len(told(company)) == 1
    with pytest.raises(BadValue):
        materials.set_covered(by=foreman, elevation=face, on=today + dt.timedelta(days=1))


def test_crew_and_strangers_cover_nothing(hand, stranger, house):
    with pytest.raises(NotAllowed):
        materials.set_covered(by=hand, elevation=face_of(house), on=MONDAY)
    with pytest.raises(NotThere):
        materials.set_covered(by=stranger, elevation=face_of(house), on=MONDAY)


def test_removed_openings_and_archived_houses_are_off_the_list(foreman, manager, company, red, house):
    send(foreman, red, house, MONDAY)
    send(foreman, red, house, TUESDAY, "Rear")
    rear = house.openings.get(mark="W2")
    openings.remove_opening(by=manager, opening=rear)
    assert [name for name, *_ in told(company)] == ["Front"]

    House.objects.filter(pk=house.pk).update(archived=True)
    assert told(company) == []


def test_each_project_gets_its_own_houses_alone(foreman, company, red, house):
    other = house_with(company, code="LOT-2")
    send(foreman, red, house, MONDAY)
    send(foreman, red, other, TUESDAY)

    (shown,) = cover_page(company, project=other.project).faces
    assert shown.elevation.house == other
    assert [row.pk for row in cover_page(company).projects] == [house.project_id, other.project_id]


def test_week_and_house_lead_to_the_list_and_a_tap_takes_an_elevation_off(
    foreman, client_of, company, red, house
):
    face = send(foreman, red, house, MONDAY)
    client = client_of(foreman)

    assert reverse("cover-list") in client.get(reverse("week")).content.decode()
    assert (
        reverse("house-cover", args=[house.pk])
        in client.get(reverse("house", args=[house.pk])).content.decode()
    )
    part = client.get(reverse("house-cover", args=[house.pk]), headers={"HX-Request": "true"})
    assert "<html" not in part.content.decode()
    assert "Wed 8 Jul 2026" in part.content.decode()

    gone = client.post(reverse("face-cover", args=[face.pk]), follow=True).content.decode()
    assert "No membrane lies open this week." in gone
    back = client.post(reverse("face-uncover", args=[face.pk]), follow=True).content.decode()
    assert "Wed 8 Jul 2026" in back


def words_of(content) -> str:
    pages = PdfReader(io.BytesIO(content)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_the_builders_paper_holds_his_project_and_is_drawn_once_a_day(
    foreman, client_of, company, red, house, time_machine
):
    other = house_with(company, code="LOT-2")
    send(foreman, red, house, MONDAY)
    send(foreman, red, other, TUESDAY)
    client = client_of(foreman)

    for _ in range(2):
        client.post(reverse("cover-paper", args=[house.project_id]))
    job = Job.objects.get(kind="cover-list-pdf")
    run_job(job.pk)
    job.refresh_from_db()

    assert job.state == Job.State.DONE
    assert reverse("job-file", args=[job.pk]) in client.get(reverse("cover-list")).content.decode()
    text = words_of(cover_list_pdf(house.project, cover_page(company, project=house.project)).content)
    for word in ("LOT-1", "Teasel Homes", "Wed 8 Jul 2026", "28 days", "C, common practice, no source"):
        assert word in text
    assert "LOT-2" not in text
    # tomorrow the days left are others
    time_machine.move_to(WEDNESDAY + dt.timedelta(days=1), tick=False)
    assert request_cover_list(by=foreman, project=house.project) != job


@pytest.mark.parametrize("houses", [1, 12])
def test_the_list_takes_the_same_queries_at_any_size(
    foreman, company, red, houses, django_assert_num_queries
):
    for number in range(houses):
        send(foreman, red, house_with(company, code=f"LOT-{number}"), MONDAY)

    with django_assert_num_queries(8):
        page = cover_page(company)

    assert len(page.faces) == houses
