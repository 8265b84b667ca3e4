"""The office manager's way: a builder's file becomes a house, its numbers and an order that is sent."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest

from config.demo.files import table
from materials import services as materials_services
from materials.models import PurchaseOrder
from openings.models import Opening
from projects import tasks
from projects.models import House, Job
from tests.browser import chromium, site
from tests.browser.hand import Hand

FILE = site.SCHEDULES / "wl-4.csv"
# what the headers of the file mean, which its builder writes in German
HEADERS = {
    "pos": "mark",
    "fassade": "elevation",
    "breite": "unit width",
    "höhe": "unit height",
    "stück": "count",
    "brüstung ab gelände": "sill height",
    "abstand links": "offset",
    "verglasung": "glass",
    "befestigung max": "fastener max",
    "hinweis sicherheit": "flags",
    "bemerkung": "note",
}


@pytest.fixture
def manager(visit):
    return Hand(visit.open("manager"))


def sign_in(visit):
    """Return the hand of the office manager who typed address and password."""
    context = chromium.context(visit.browser)
    hand = Hand(context.new_page())
    visit.go(hand.page, "/")
    hand.type("E-mail address", visit.demo.people["manager"].user.email)
    hand.type("Password", table("company.toml")["company"]["demo_password"])
    hand.press("Sign in")
    return hand


def test_next_weeks_order_is_sent_within_six_presses(visit):
    monday = site.this_monday() + timedelta(days=7)
    for draft in PurchaseOrder.objects.filter(company=visit.demo.company, issued_at=None, week=monday):
        materials_services.discard_draft(by=visit.demo.people["manager"], order=draft)

    hand = sign_in(visit)
    hand.press("Open the week of")
    hand.press("Make drafts for what is short")
    hand.press("Check the draft to")
    hand.press("Issue order to")

    # sign in, open the week, make drafts, look at one, issue it
    assert hand.pressed == 5
    number = re.search(r"20\d\d-\d{3}", hand.page.locator(".title-block").inner_text())
    assert number is not None
    order = PurchaseOrder.objects.get(company=visit.demo.company, number=number[0])
    assert order.issued_by == visit.demo.people["manager"].user


def test_an_issued_order_becomes_a_pdf_while_its_page_shows_how_far_it_is(visit, manager):
    issued = PurchaseOrder.objects.filter(company=visit.demo.company, number__isnull=False).earliest("pk")
    visit.go(manager.page, f"/orders/{issued.pk}/")
    assert manager.page.get_by_role("progressbar").is_visible()

    for job in Job.objects.filter(company=visit.demo.company, kind="order-pdf", state=Job.State.QUEUED):
        tasks.run_job(job.pk)
    manager.page.get_by_text("Ready.").wait_for()
    with manager.page.expect_download() as waited:
        manager.page.evaluate(
            "() => document.querySelector('.progress a.button').setAttribute('download', 'order.pdf')"
        )
        manager.press("Open")

    assert waited.value.path().read_bytes().startswith(b"%PDF-1.")


def test_a_builders_file_becomes_a_house_whose_numbers_follow_a_window(visit, manager):
    house = import_house(visit, manager)

    # 12 rows of the file, two of them for two windows each
    assert Opening.objects.filter(house=house).count() == 12
    assert manager.page.get_by_role("img", name="4 Weir Lane").is_visible()
    before = takeoff_of(manager.page)

    manager.press("N01", exact=True)
    assert manager.page.get_by_role("img", name=re.compile("Section", re.IGNORECASE)).first.is_visible()
    bead = manager.page.get_by_role("row", name="back bead").first.inner_text()
    # 1200 mm is 47 1/4 in; the head's back bead is as long as the unit is wide
    assert "47" in bead
    manager.press("Edit opening")
    manager.type("Unit width", "60")
    manager.type("RO width", "")
    manager.press("Save opening")
    assert "60" in manager.page.get_by_role("row", name="back bead").first.inner_text()
    visit.go(manager.page, f"/houses/{house.pk}/")
    after = takeoff_of(manager.page)
    assert before["Sealant"] != after["Sealant"]
    assert before["Foam"] != after["Foam"]


def import_house(visit, manager):
    """Set up a project and a house, send the file, match its headers, look, and save."""
    visit.go(manager.page, "/projects/")
    manager.press("New project")
    manager.type("Project code", "BL")
    manager.type("Project name", "Bulrush Lane")
    manager.type("Builder", "Ochre Gate Homes")
    manager.press("Set up project")
    manager.press("New house")
    manager.type("House code", "BL-4")
    manager.type("House name or lot", "4 Weir Lane")
    manager.press("Set up house")
    manager.press("Import window schedule")
    manager.page.get_by_label("Window schedule").set_input_files(FILE)
    manager.press("Read the file")
    assert "can't be read yet" in manager.sees
    for header, column in HEADERS.items():
        manager.page.get_by_label(re.compile(rf"^{re.escape(header)}", re.IGNORECASE)).select_option(
            label=column
        )
    manager.press("Keep this match and read again")
    assert not Opening.objects.filter(house__code="BL-4").exists()
    manager.press("Save 12 openings to BL-4")
    return House.objects.get(code="BL-4")


def takeoff_of(page):
    """Return what the house page says it needs, by material."""
    rows = page.get_by_role("region", name="Takeoff").first.get_by_role("row").all()
    return {row.get_by_role("rowheader").inner_text(): row.inner_text() for row in rows[1:]}
