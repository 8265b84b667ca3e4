"""Each role's task with the keyboard alone; the focus is seen at every stop and is never nowhere."""

from __future__ import annotations

from datetime import timedelta

import pytest

from config.demo.files import table
from crews.models import Assignment
from materials import services as materials_services
from materials.models import PurchaseOrder
from projects import tasks
from projects.models import Elevation, Job
from tests.browser import chromium, inspection, site
from tests.browser.hand import Keys

FOCUS = """() => {
  const one = document.activeElement;
  return one === document.body ? "nowhere" : one.id || one.innerText;
}"""


@pytest.fixture
def keys(visit):
    """Return the keys of a person of the demo."""

    def of(role, address="/"):
        return Keys(visit.open(role, address))

    return of


def test_the_manager_signs_in_and_sends_next_weeks_order(visit):
    monday = site.this_monday() + timedelta(days=7)
    manager = visit.demo.people["manager"]
    for draft in PurchaseOrder.objects.filter(company=visit.demo.company, issued_at=None, week=monday):
        materials_services.discard_draft(by=manager, order=draft)
    issued = PurchaseOrder.objects.filter(company=visit.demo.company, issued_by=manager.user)
    before = issued.count()

    keys = Keys(chromium.context(visit.browser).new_page())
    visit.go(keys.page, "/")
    keys.type("E-mail address", manager.user.email)
    keys.type("Password", table("company.toml")["company"]["demo_password"])
    keys.press("Sign in")
    keys.press("Open the week of")
    keys.press("Make drafts for what is short")
    keys.press("Check the draft to")
    keys.press("Issue order to")

    assert issued.count() == before + 1


def test_the_foreman_sends_a_crew(visit, keys):
    monday = visit.demo.days["day"]
    face = Elevation.objects.get(house__code="PM-14", name="Rear")
    foreman = keys("foreman")

    foreman.press("Week", exact=True)
    foreman.press(f"PM-14 Rear on {monday:%a} {monday.day} {monday:%b}")

    assert Assignment.objects.get(elevation=face).date == monday


def test_the_owner_reads_what_an_opening_costs(keys):
    owner = keys("owner")

    owner.press("Costs", exact=True)
    owner.press("PM-12", exact=True)
    owner.on(owner.page.get_by_role("region", name="Planned cost per opening").get_by_role("link").first)

    assert owner.page.locator("table.cost-lines").count() > 0


def test_a_hand_of_the_crew_opens_the_steps_of_an_opening(visit, keys):
    crew = visit.demo.things["crew"]()
    hand = keys("crew", f"/crews/{crew.pk}/{visit.demo.days['day']}/")
    later = hand.page.locator("details.visit").nth(1)

    hand.on(later.locator("summary"))

    assert later.get_attribute("open") is not None
    assert "Not before" in hand.page.locator("details.visit[open]").all_inner_texts()[0]


@pytest.fixture
def waiting(visit, keys):
    """Return a job's page, its focus on the link beside the bar, and the job, which nobody has done yet."""
    jobs = Job.objects.filter(company=visit.demo.company, kind="order-pdf", state=Job.State.QUEUED)
    job = jobs.earliest("pk")
    page = keys("manager", f"/jobs/{job.pk}/").page
    page.get_by_role("link", name="Look again").focus()
    return page, job


def test_the_focus_stays_while_a_part_of_the_page_asks_anew(waiting):
    page, job = waiting

    for _ in range(2):
        with page.expect_response(lambda answer: answer.url.endswith(f"/jobs/{job.pk}/")):
            pass
    assert page.evaluate(FOCUS) == f"job-{job.pk}-again"
    tasks.run_job(job.pk)
    page.get_by_text("Ready.").wait_for()

    assert page.evaluate(FOCUS).startswith("Open")
    assert inspection.measured(page, "hiddenFocus") == []


def test_without_the_script_the_focus_would_be_lost(waiting):
    """The negative control."""
    page, job = waiting
    page.route("**/js/sheet*.js", lambda asked: asked.fulfill(body="", content_type="text/javascript"))
    page.reload()
    page.get_by_role("link", name="Look again").focus()

    tasks.run_job(job.pk)
    page.get_by_text("Ready.").wait_for()

    assert page.evaluate(FOCUS) == "nowhere"


def test_the_focus_is_on_what_was_refused(keys):
    manager = keys("manager", "/projects/new/")

    manager.press("Set up project")

    assert manager.page.evaluate(FOCUS).startswith("Not saved yet")
