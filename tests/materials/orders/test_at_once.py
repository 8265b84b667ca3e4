"""Many at the same moment: one set of drafts, one order, numbers without gap or double; on both databases."""

from __future__ import annotations

import pytest

from materials import services
from materials.errors import AlreadyIssued
from materials.models import Coverage, OrderEvent, PurchaseOrder
from projects.models import Counter, Job
from tests.materials.orders.building import seen
from tests.materials.orders.races import all_at_once, number_many

pytestmark = pytest.mark.django_db(transaction=True)


def test_four_who_make_drafts_make_one(site):
    made = all_at_once(*[lambda: services.make_drafts(by=site.by, week=site.monday)] * 4)

    assert sorted(len(drafts.orders) for drafts in made) == [0, 0, 0, 1]
    assert (PurchaseOrder.objects.count(), Coverage.objects.count()) == (1, 16)


def test_two_managers_issue_one_order_and_the_second_learns_of_it(site, owner):
    draft = site.draft()
    content = seen(draft)

    given = all_at_once(
        lambda: services.issue_order(by=site.by, order=draft, key="form-1", seen=content),
        lambda: services.issue_order(by=owner, order=draft, key="form-2", seen=content),
    )

    (refusal,) = [each for each in given if isinstance(each, AlreadyIssued)]
    order = PurchaseOrder.objects.get()
    assert refusal.parameters["who"] == order.issued_by.name
    assert refusal.parameters["number"] == order.number
    assert (OrderEvent.objects.count(), Counter.objects.get(kind="order").last) == (1, 1)


def test_one_form_sent_six_times_at_once_is_one_order(site):
    draft = site.draft()
    content = seen(draft)

    given = all_at_once(
        *[lambda: services.issue_order(by=site.by, order=draft, key="form-1", seen=content)] * 6
    )

    assert {order.number for order in given} == {PurchaseOrder.objects.get().number}
    assert (OrderEvent.objects.count(), Job.objects.count()) == (1, 1)


def test_drafting_and_discarding_at_once_leaves_nothing_half(site):
    draft = site.draft()

    all_at_once(
        lambda: services.discard_draft(by=site.by, order=draft),
        lambda: services.make_drafts(by=site.by, week=site.monday),
        lambda: services.make_drafts(by=site.by, week=site.monday),
    )

    services.make_drafts(by=site.by, week=site.monday)
    assert (PurchaseOrder.objects.count(), Coverage.objects.count()) == (1, 16)


def test_numbers_have_no_gap_though_every_third_is_rolled_back(manager):
    number_many(manager, each=3)
