"""The pages and papers of cut lists: who sees what, what a form does, what stands on paper."""

from __future__ import annotations

import io

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pypdf import PdfReader

from materials import services
from materials.models import CutList, CutRoll, Lot
from materials.papers import cut_list_pdf, labels_pdf
from materials.selectors.cut_pages import cut_page
from projects.models import Job
from projects.tasks import run_job
from tests.materials.cutting.building import INCH, rolls
from tests.materials.orders.building import build

pytestmark = pytest.mark.django_db


@pytest.fixture
def lead(client_of, foreman):
    return client_of(foreman)


def at(name, *arguments):
    return reverse(name, args=arguments)


def read(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def words_of(document) -> str:
    pages = PdfReader(io.BytesIO(document.content)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_the_foreman_makes_the_list_cuts_a_roll_and_keeps_its_rest(site, lead):
    rolls(site.by, 1)
    page = at("cut-list-house", site.house.pk)
    # 8 strips of 9 in membrane, 2 pans, 4 flap tapes
    assert "14 strips and pieces are to be cut" in read(lead, page)

    made = lead.post(at("cut-list-house-make", site.house.pk))
    roll = CutRoll.objects.get(material="membrane-9in")
    form = read(lead, at("cut-roll", roll.pk))
    done = lead.post(at("cut-roll", roll.pk), {"kept": "11'-6\""}, follow=True)

    assert (made.status_code, made["Location"]) == (302, page)
    # 144 in are left by plan
    assert "12&#x27;-0&quot;" in form
    assert "11&#x27;-6&quot; are in stock" in done.content.decode()
    assert Lot.objects.get(pack="").piece_size == 138 * INCH


def test_a_rest_that_is_no_length_or_too_long_is_said_at_its_field(site, lead):
    rolls(site.by, 1)
    services.make_cut_list(by=site.by, house=site.house)
    roll = CutRoll.objects.get(material="membrane-9in")

    nonsense = lead.post(at("cut-roll", roll.pk), {"kept": "a bit"})
    too_long = lead.post(at("cut-roll", roll.pk), {"kept": "13'"})

    assert nonsense.status_code == too_long.status_code == 422
    assert "a bit" in nonsense.content.decode()
    assert "Give at most 12&#x27;-0&quot;" in too_long.content.decode()
    assert CutRoll.objects.filter(cut_at=None).count() == 3


def test_the_crew_reads_and_cuts_but_makes_no_list(site, client_of, hand):
    page = at("cut-list-day", site.tuesday)
    assert at("cut-list-day-make", site.tuesday) not in read(client_of(hand), page)

    rolls(site.by, 1)
    services.make_cut_list(by=site.by, day=site.tuesday)
    shown = read(client_of(hand), page)

    assert at("cut-list-day-make", site.tuesday) not in shown
    assert at("cut-roll", CutRoll.objects.get(material="membrane-9in").pk) in shown


def test_both_papers_hold_every_strip_of_the_list(site):
    row = services.make_cut_list(by=site.by, house=site.house)
    page = cut_page(site.by.company, row.pk)

    listed, labels = words_of(cut_list_pdf(page)), words_of(labels_pdf(page))

    for text in (listed, labels):
        assert text.count("left jamb strip") == text.count("right jamb strip") == 2
        assert text.count("head strip") == text.count("sill strip") == 2
        assert text.count("flap tape") == 4
    assert labels.count("W1") == labels.count("W2") == 7
    assert "Cut list LOT-1" in listed
    assert "page 1 of" in listed


def test_list_and_labels_are_drawn_once_however_often_they_are_asked_for(site, lead):
    row = services.make_cut_list(by=site.by, house=site.house)

    for _ in range(2):
        assert lead.post(at("cut-list-papers", row.pk)).status_code == 302
    for job in Job.objects.filter(kind__startswith="cut-"):
        run_job(job.pk)

    ready = Job.objects.filter(kind__startswith="cut-", state=Job.State.DONE).order_by("kind")
    assert [job.file_name for job in ready] == ["cut-list-lot-1-labels.pdf", "cut-list-lot-1.pdf"]
    assert "cut-list-lot-1-labels.pdf" in read(lead, at("cut-list-house", site.house.pk))


def test_week_and_house_lead_to_their_lists(site, client_of, manager):
    office = client_of(manager)

    assert at("cut-list-day", site.tuesday) in read(office, at("order-week", site.monday))
    assert at("cut-list-house", site.house.pk) in read(office, at("house-takeoff", site.house.pk))


def test_a_page_takes_as_many_queries_for_many_houses_as_for_one(site, lead):
    def queries() -> int:
        services.make_cut_list(by=site.by, day=site.tuesday)
        with CaptureQueriesContext(connection) as taken:
            read(lead, at("cut-list-day", site.tuesday))
        return len(taken)

    queries()
    one = queries()
    for number in range(2, 5):
        build(site.by, code=f"LOT-{number}")

    assert queries() == one
    assert CutList.objects.count() == 1
    assert one <= 19
