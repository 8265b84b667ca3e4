"""A crew's sheet on the phone and on paper, the homes of foreman and crew."""

from __future__ import annotations

import re

import pikepdf
import pytest
from django.urls import reverse
from pypdf import PdfReader

from crews import services
from crews.documents import sheet_pdf
from crews.models import CrewMember
from crews.selectors.sheets import sheet_page, today_page
from openings.models import Opening
from projects.models import Job
from projects.tasks import run_job
from tests.factories.crews import MONDAY, crew_of, face_of, fine_day, house_with

pytestmark = pytest.mark.django_db
PRICE = re.compile(r"\$\s?\d")


@pytest.fixture
def red(company):
    return crew_of(company, "RED")


@pytest.fixture
def sent(foreman, company, red):
    """RED goes to a house's front with two openings, in fine weather."""
    fine_day(company)
    house = house_with(company, "Front,W1,36,60,24,36,sealed", "Front,W2,24,36,120,36,sealed")
    services.assign_crew(by=foreman, crew=red, elevation=face_of(house), day=MONDAY)
    return house


@pytest.fixture
def hands(client, hand, red):
    """The phone of somebody who works in RED."""
    CrewMember.objects.filter(pk=red.members.first().pk).update(user=hand.user)
    client.force_login(hand.user)
    return client


def address(crew, name="sheet"):
    return reverse(name, args=[crew.pk, MONDAY])


def text_of(answer):
    return answer.content.decode()


def test_a_day_without_a_sheet_offers_to_make_it(hands, red, sent):
    page = text_of(hands.get(address(red)))

    assert "Its sheet is not made yet" in page
    assert f'action="{address(red, "sheet-make")}"' in page


def test_a_day_out_of_nowhere_says_so(hands, red):
    assert "not sent anywhere" in text_of(hands.get(address(red)))


def test_making_the_sheet_shows_how_far_it_is_and_then_the_day(hands, red, sent):
    hands.post(address(red, "sheet-make"))
    page = text_of(hands.get(address(red)))
    assert "<progress" in page
    assert 'hx-trigger="every 1s"' in page

    run_job(Job.objects.get().pk)

    page = text_of(hands.get(address(red)))
    assert "<progress" not in page
    for word in ("W1", "W2", "Load before you leave", "Squeeze-out and weep gaps seen", "Not before"):
        assert word in page
    assert "Follow the manufacturer" in page
    assert '<svg class="drawing"' in page


def test_the_part_that_asks_stops_when_the_sheet_is_there(hands, red, sent):
    hands.post(address(red, "sheet-make"))
    run_job(Job.objects.get().pk)

    part = hands.get(address(red), headers={"HX-Request": "true", "HX-Target": "sheet-state"})

    assert part["HX-Refresh"] == "true"
    assert "hx-get" not in text_of(part)
    assert "<html" not in text_of(part)


def test_a_stale_sheet_says_so_and_is_made_anew(hands, foreman, red, sent):
    services.plan_day(by=foreman, crew=red, day=MONDAY)
    Opening.objects.filter(mark="W1").update(unit_width_nm=40 * 25_400_000, ro_width_nm=41 * 25_400_000)

    page = text_of(hands.get(address(red)))

    assert "Something changed since this sheet was made" in page
    assert "Make it anew" in page


def test_a_failed_sheet_says_why(hands, foreman, company, red, sent):
    hands.post(address(red, "sheet-make"))
    Job.objects.update(state="failed", error="The day changed while its sheet was made.")

    assert "The day changed while its sheet was made." in text_of(hands.get(address(red)))


def test_the_pdf_is_handed_out_to_the_crew_once_it_is_there(hands, red, sent):
    assert hands.get(address(red, "sheet-pdf")).status_code == 404
    hands.post(address(red, "sheet-make"))
    run_job(Job.objects.get().pk)

    answer = hands.get(address(red, "sheet-pdf"))

    assert answer["Content-Type"] == "application/pdf"
    assert b"".join(answer.streaming_content).startswith(b"%PDF")


def test_no_page_of_crew_and_foreman_shows_a_price(hands, client_of, foreman, red, sent):
    plan = services.plan_day(by=foreman, crew=red, day=MONDAY)
    boss = client_of(foreman)
    pages = [hands.get(address(red)), hands.get(reverse("home-sheet")), hands.get("/")]
    pages += [boss.get(path) for path in (
        address(red), reverse("crew", args=[red.pk]), reverse("crews"), reverse("week"),
        reverse("home-crews"),
        reverse("home-week"), reverse("member-edit", args=[red.members.first().pk]),
    )]  # fmt: skip

    for page in pages:
        assert page.status_code == 200
        assert not PRICE.search(text_of(page))
    assert not PRICE.search(str(plan.plan))


def test_crew_and_foreman_open_no_costs(hands, client_of, foreman, red, sent):
    for browser in (hands, client_of(foreman)):
        for name, args in (
            ("costs", []), ("home-costs", []), ("home-look", []), ("rentals", []),
            ("house-costs", [sent.pk]), ("opening-costs", [Opening.objects.first().pk]),
        ):  # fmt: skip
            answer = browser.get(reverse(name, args=args))
            assert answer.status_code == 403
            assert "Costs are for the owner and the office." in text_of(answer)


def test_a_crews_first_page_leads_to_its_next_day(hands, foreman, red, sent, time_machine):
    time_machine.move_to("2026-06-06 12:00")
    services.plan_day(by=foreman, crew=red, day=MONDAY)

    part = text_of(hands.get(reverse("home-sheet"), headers={"HX-Request": "true"}))

    assert "Open the sheet of Mon 8 Jun" in part
    assert "2 openings" in part
    assert "<html" not in part


def test_somebody_in_no_crew_is_told_what_comes_first(client, hand):
    client.force_login(hand.user)

    assert "You are in no crew yet" in text_of(client.get(reverse("home-sheet")))


def test_a_foremans_first_page_shows_todays_crews(client_of, foreman, red, sent, time_machine):
    time_machine.move_to("2026-06-08 11:00")
    services.plan_day(by=foreman, crew=red, day=MONDAY)

    page = text_of(client_of(foreman).get(reverse("home-crews")))

    assert "RED" in page
    assert "2 openings, done" in page
    assert "73 °F, 50 %, dry" in page


@pytest.mark.parametrize("rows", [1, 20])
def test_the_sheet_takes_the_same_queries_at_any_size(foreman, company, rows, django_assert_num_queries):
    crew = crew_of(company)
    lines = [f"Front,W{number},36,60,,," for number in range(rows)]
    services.assign_crew(by=foreman, crew=crew, elevation=face_of(house_with(company, *lines)), day=MONDAY)
    services.plan_day(by=foreman, crew=crew, day=MONDAY)

    with django_assert_num_queries(15):
        page = sheet_page(company, crew.pk, MONDAY)

    assert len(page.sheet.visits) + len(page.sheet.left_over) >= rows


@pytest.mark.parametrize("rows", [1, 20])
def test_todays_crews_take_the_same_queries_at_any_size(
    foreman, company, rows, time_machine, django_assert_num_queries
):
    time_machine.move_to("2026-06-08 11:00")
    for number in range(rows):
        crew = crew_of(company, f"C{number}")
        house = house_with(company)
        services.assign_crew(by=foreman, crew=crew, elevation=face_of(house), day=MONDAY)

    with django_assert_num_queries(6):
        page = today_page(company)

    assert len(page.crews) == rows


@pytest.fixture
def paper(foreman, company, red, sent, tmp_path):
    """The sheet's PDF, opened."""
    plan = services.plan_day(by=foreman, crew=red, day=MONDAY)
    document = sheet_pdf(plan)
    file = tmp_path / document.name
    file.write_bytes(document.content)
    return pikepdf.open(file)


def test_the_pdf_is_tagged_named_and_letter(paper):
    # 8 1/2 x 11 in at 72 points; an A4 page (595 x 842) is 17 points narrower and 50 higher: the margins of
    # 16 mm (45 points) hold the text on both
    assert [round(float(side)) for side in paper.pages[0].mediabox] == [0, 0, 612, 792]
    assert paper.Root.MarkInfo.Marked
    assert str(paper.docinfo["/Title"]).startswith("RED, Mon 8 Jun 2026: ")


def test_every_page_says_where_it_belongs_and_how_many_there_are(paper):
    pages = [page.extract_text() for page in PdfReader(paper.filename).pages]

    assert len(pages) >= 2
    for number, page in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in page
        assert "Front" in page
        assert "RED Mon 8 Jun 2026" in page
    assert any("W1: step, wait and why" in page for page in pages)


def test_a_name_in_the_data_stays_text(client_of, foreman, company, red, sent):
    Opening.objects.filter(mark="W1").update(mark='"><svg onload=alert(1)>')
    services.edit_crew(by=foreman, crew=red, version=None, code="RED", name="<b>Red</b> {{ 7 }}")
    services.plan_day(by=foreman, crew=red, day=MONDAY)

    page = text_of(client_of(foreman).get(address(red)))

    assert "<svg onload" not in page
    assert "<b>Red</b>" not in page
    assert "{{ 7 }}" in page
