"""Issuing: once, with the next number, what was seen is what is sent."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
import time_machine

from materials import services
from materials.convert import state_of
from materials.errors import AlreadyIssued, DraftIsStale, OtherLines
from materials.models import OrderEvent, PurchaseOrder
from projects.errors import NotAllowed, NotThere
from projects.messages import words
from projects.models import AuditEntry, Counter, Job
from projects.quantities.length import Length
from projects.quantities.money import Money
from tests.factories.orders import DraftFactory
from tests.materials.orders.building import build, issue, seen, set_price

pytestmark = pytest.mark.django_db


def nothing_is_issued():
    return not PurchaseOrder.objects.filter(number__isnull=False).exists() and not OrderEvent.objects.exists()


def test_issued_order_has_number_hash_event_audit_and_pdf(site):
    draft = site.draft()
    content = seen(draft)

    order = issue(draft, by=site.by)

    order.refresh_from_db()
    year = order.issued_at.year
    assert order.number == f"{year}-001"
    assert order.content_hash == content
    assert order.issued_by == site.by.user
    assert state_of(order, order.events.all()) == "issued"
    assert AuditEntry.objects.get(action="issue order").actor == "Dana Whitlow"
    assert Job.objects.get().arguments == {"order": order.pk}


def test_same_form_sent_twice_finds_the_one_order(site):
    draft = site.draft()
    content = seen(draft)

    first = services.issue_order(by=site.by, order=draft, key="form-1", seen=content)
    again = services.issue_order(by=site.by, order=draft, key="form-1", seen=content)

    assert again == first
    assert again.number == first.number
    assert (OrderEvent.objects.count(), Job.objects.count()) == (1, 1)
    assert Counter.objects.get(kind="order").last == 1


def test_same_form_with_other_lines_is_refused(site):
    draft = site.draft()
    issue(draft, by=site.by)

    with pytest.raises(OtherLines) as refusal:
        services.issue_order(by=site.by, order=draft, key="form-1", seen="0" * 64)

    assert refusal.value.status == 422
    assert OrderEvent.objects.count() == 1


def test_form_of_one_order_does_not_issue_another(site):
    issue(site.draft(), by=site.by)
    build(site.by, code="LOT-2")
    (other,) = services.make_drafts(by=site.by, week=site.monday).orders

    with pytest.raises(OtherLines):
        issue(other, by=site.by, key="form-1")

    other.refresh_from_db()
    assert other.number is None


def test_second_manager_reads_who_was_first_and_when(site, owner):
    draft = site.draft()
    content = seen(draft)
    # 13:41 in New York
    with time_machine.travel(datetime(2026, 6, 1, 17, 41, tzinfo=UTC)):
        issue(draft, by=site.by)

    with pytest.raises(AlreadyIssued) as refusal:
        services.issue_order(by=owner, order=draft, key="form-2", seen=content)

    assert refusal.value.status == 409
    told = "Dana Whitlow issued order 2026-001 at 13:41 on 01 Jun. Nothing was ordered again."
    assert words(refusal.value) == told
    assert OrderEvent.objects.count() == 1


def test_draft_whose_window_grew_is_stale(site):
    draft = site.draft()
    content = seen(draft)
    site.widen("W1", 48)

    with pytest.raises(DraftIsStale):
        services.issue_order(by=site.by, order=draft, key="form-1", seen=content)

    assert nothing_is_issued()


def test_draft_whose_window_turned_is_stale_though_it_needs_as_much(site):
    # W1 60 x 36 needs as much of the 9-in membrane as 36 x 60: 78.5 + 78.5 + 53.5 + 53.5 = 264
    draft = site.draft()
    site.change(
        "W1",
        unit_width=Length.inches(60),
        unit_height=Length.inches(36),
        ro_width=Length.inches(60.5),
        ro_height=Length.inches(36.5),
    )

    with pytest.raises(DraftIsStale):
        issue(draft, by=site.by)

    assert nothing_is_issued()


def test_what_was_not_seen_is_not_issued(site):
    draft = site.draft()

    with pytest.raises(DraftIsStale):
        services.issue_order(by=site.by, order=draft, key="form-1", seen="0" * 64)

    assert nothing_is_issued()


def test_draft_that_is_gone_is_stale(site):
    draft = site.draft()
    content = seen(draft)
    services.discard_draft(by=site.by, order=PurchaseOrder.objects.get(pk=draft.pk))

    with pytest.raises(DraftIsStale):
        services.issue_order(by=site.by, order=draft, key="form-1", seen=content)

    assert nothing_is_issued()


def test_newer_price_does_not_change_what_is_issued(site):
    draft = site.draft()
    set_price(
        site.by,
        site.supplier,
        "shims",
        "bundle-50",
        Money.of("9.00"),
        valid_from=datetime.now(UTC).date(),
    )

    order = issue(draft, by=site.by)

    assert order.total_cents == 189_90


def test_numbers_run_on_within_a_year_and_begin_again(company, manager):
    numbers = []
    for year in (2026, 2026, 2027, 2026):
        with time_machine.travel(datetime(year, 6, 1, 12, tzinfo=UTC)):
            draft = DraftFactory(company=company)
            numbers.append(issue(draft, by=manager, key=f"form-{len(numbers)}").number)

    assert numbers == ["2026-001", "2026-002", "2027-001", "2026-003"]


def test_year_of_a_number_is_that_of_the_companys_calendar(company, manager):
    # 1 January 02:00 in London is still 31 December in New York
    with time_machine.travel(datetime(2027, 1, 1, 2, tzinfo=UTC)):
        order = issue(DraftFactory(company=company), by=manager)

    assert order.number == "2026-001"


def test_foreman_and_stranger_issue_nothing(site, foreman, stranger):
    draft = site.draft()

    with pytest.raises(NotAllowed):
        issue(draft, by=foreman)
    with pytest.raises(NotThere):
        issue(draft, by=stranger)

    assert nothing_is_issued()
