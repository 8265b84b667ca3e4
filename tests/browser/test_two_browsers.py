"""R5: two people with two browsers side by side look at the same draft, and both press "Issue order"."""

from __future__ import annotations

import re
from datetime import timedelta
from zoneinfo import ZoneInfo

from materials import services
from materials.models import OrderEvent, PurchaseOrder
from tests.browser import chromium, site


def test_of_two_browsers_that_order_at_once_one_orders_and_the_other_reads_who_and_when(visit):
    people = [visit.demo.people["manager"], visit.demo.people["owner"]]
    monday = site.this_monday() + timedelta(days=7)
    for old in PurchaseOrder.objects.filter(company=visit.demo.company, issued_at=None, week=monday):
        services.discard_draft(by=people[0], order=old)
    draft = services.make_drafts(by=people[0], week=monday).orders[0]
    address = f"/orders/{draft.pk}/"
    pages = [visit.open(person.role, address) for person in people]
    buttons = [page.get_by_role("button", name=re.compile("^Issue order")).first for page in pages]

    # both are pressed before either answer is waited for
    for page, button in zip(pages, buttons, strict=True):
        handle = button.element_handle()
        page.evaluate("button => { setTimeout(() => button.click(), 50) }", handle)
    for page in pages:
        page.get_by_text(re.compile(r"is issued\.|Nothing was ordered again\.")).first.wait_for()
        chromium.settle(page)

    draft.refresh_from_db()
    assert draft.number is not None
    assert OrderEvent.objects.filter(order=draft, kind="issued").count() == 1
    told = {page: page.locator("main").inner_text() for page in pages}
    (loser,) = [page for page in pages if "Nothing was ordered again." in told[page]]
    (winner,) = [page for page in pages if page is not loser]
    first = people[pages.index(winner)].user
    assert draft.issued_by == first
    when = draft.issued_at.astimezone(ZoneInfo(visit.demo.company.time_zone))
    assert f"{first.name} issued order {draft.number} at {when:%H:%M on %d %b}." in told[loser]
    loser.get_by_role("link", name=f"Open order {draft.number}").click()
    chromium.settle(loser)
    assert loser.url.endswith(address)
    assert draft.number in loser.locator(".title-block").inner_text()
