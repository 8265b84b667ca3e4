"""Every page can be read, and every form sent, by a browser that runs no scripts."""

from __future__ import annotations

import pytest

from crews.models import WorkRecord
from materials.models import PurchaseOrder
from projects.models import Project
from tests.browser import chromium, site
from tests.browser.hand import Hand


@pytest.fixture
def reader(visit):
    """Return a hand of the person whose browser runs no scripts."""

    def of(role, address="/", size=chromium.DESK):
        context = chromium.context(
            visit.browser, person=visit.demo.people[role], size=size, java_script_enabled=False
        )
        page = context.new_page()
        page.goto(visit.address + address)
        return Hand(page, runs_scripts=False)

    return of


def test_the_parts_of_a_first_page_are_links_where_no_script_runs(reader):
    hand = reader("manager")

    hand.press("See what next week needs")

    assert "Still short" in hand.sees


def test_a_house_leads_to_its_takeoff_and_costs_where_no_script_runs(visit, reader):
    house = visit.demo.things["house"]()
    hand = reader("owner", f"/houses/{house.pk}/")

    assert hand.page.get_by_role("img", name=house.name).is_visible()
    hand.press("See the takeoff of this house")
    assert "Tubes of sealant" in hand.sees


def test_the_days_sheet_is_read_where_no_script_runs(visit, reader):
    crew, day = visit.demo.things["crew"](), visit.demo.days["day"]

    hand = reader("crew", f"/crews/{crew.pk}/{day}/", size=chromium.PHONE)

    assert crew.code in hand.sees


def test_a_step_is_marked_done_where_no_script_runs(visit, reader):
    crew, day = visit.demo.things["crew"](), visit.demo.days["day"]
    site.make_sheets(visit.demo.company, crew)
    hand = reader("crew", f"/crews/{crew.pk}/{day}/", size=chromium.PHONE)

    hand.press("Done")

    assert "1 step is done." in hand.sees
    assert WorkRecord.objects.count() == 1


def test_an_order_is_issued_where_no_script_runs(visit, reader):
    # next week's draft would be refused: a builder's revision came after it
    this_week = PurchaseOrder.objects.filter(company=visit.demo.company, week=visit.demo.days["day"])
    draft = this_week.filter(issued_at=None).earliest("pk")
    hand = reader("manager", f"/orders/{draft.pk}/")

    hand.press("Issue order to")

    draft.refresh_from_db()
    assert draft.issued_by == visit.demo.people["manager"].user
    assert draft.number in hand.sees


def test_a_form_is_refused_and_then_saved_where_no_script_runs(visit, reader):
    hand = reader("manager", "/projects/new/")

    hand.press("Set up project")
    assert hand.page.get_by_role("alert").is_visible()
    assert not Project.objects.filter(name="Plain reading").exists()
    hand.type("Project code", "PLAIN")
    hand.type("Project name", "Plain reading")
    hand.type("Builder", "Yarrowby Homes")
    hand.press("Set up project")

    assert Project.objects.get(name="Plain reading").company == visit.demo.company
