"""Confirming, changing and cancelling an order by its page, as the office does."""

from __future__ import annotations

import pytest
from django.urls import reverse

from materials.models import PurchaseOrder, Supplier
from materials.selectors.orders import order_of
from materials.services import set_price
from projects.quantities.money import Money
from tests.materials.orders.building import LONG_AGO, issue
from tests.materials.orders.test_pages import form_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def page(client, order) -> str:
    return client.get(reverse("order", args=[order.pk])).content.decode()


def post(client, route, order, **entry):
    return client.post(reverse(route, args=[order.pk]), entry)


def test_the_suppliers_word_stands_in_the_history(office, site):
    order = site.issued()

    post(office, "order-acknowledge", order, note="Comes on Tuesday.")

    told = page(office, order)
    assert "Acknowledged" in told
    assert "Comes on Tuesday." in told
    assert reverse("order-acknowledge", args=[order.pk]) not in told


def test_an_order_is_cancelled_with_its_reason_only(office, site):
    order = site.issued()

    refused = post(office, "order-cancel", order, reason="")
    done = post(office, "order-cancel", order, reason="The builder stopped the house.")

    assert refused.status_code == 422
    assert "Reason is empty. Fill it in." in refused.content.decode()
    assert done.url == reverse("order", args=[order.pk])
    told = page(office, order)
    assert "The builder stopped the house." in told
    assert "Nothing more is expected of this order." in told
    assert reverse("order-cancel", args=[order.pk]) not in told
    late = post(office, "order-change", order)
    assert late.status_code == 409
    assert f"{order.number} is cancelled" in late.content.decode()


def test_a_change_is_drafted_seen_and_issued(office, site):
    order = site.issued()
    site.widen("W1", 48)

    drafted = post(office, "order-change", order)

    draft = PurchaseOrder.objects.get(changes=order)
    assert drafted.url == reverse("order", args=[draft.pk])
    told = page(office, draft)
    assert f"order {order.number}" in told
    assert "Until then that order stands" in told
    assert "Check the drafted change" in page(office, order)
    changed = issue(draft, by=site.by, key="form-2")
    assert f"Order {changed.number}" in page(office, order)
    assert "took the place of this one" in page(office, order)


def test_nothing_is_changed_by_who_may_not(client_of, site, foreman):
    order = site.issued()
    client = client_of(foreman)

    for route in ("order-acknowledge", "order-cancel", "order-change"):
        assert post(client, route, order, reason="x").status_code == 403
    assert order.events.count() == 1


def test_freight_breaks_and_the_last_day_to_order_stand_on_the_page(office, site):
    Supplier.objects.update(freight_cents=15_00, holidays=[])
    # from 4 cartridges on each is 8.50: 34.00 instead of 36.00
    set_price(
        by=site.by,
        supplier=site.supplier,
        material="sealant",
        pack="cartridge-10.1oz",
        price=Money(9_00),
        valid_from=LONG_AGO,
        breaks=[(4, 8_50)],
    )

    draft = site.draft()

    assert (draft.total_cents, draft.freight_cents) == (189_90 - 2_00, 15_00)
    told = page(office, draft)
    assert "$15.00" in told
    assert "$202.90" in told
    # there on Monday evening after two working days: ordered on Thursday
    thursday = order_of(site.by.company, draft.pk).order_by
    assert (site.monday - thursday).days == 4
    assert f"Order by <strong>Thu {thursday.day}" in told
    # the same break stands in the price list, and the order keeps it
    assert "from 4:" in office.get(reverse("prices")).content.decode()
    issue(draft, by=site.by)
    assert office.get(reverse("order-xml", args=[draft.pk])).content.count(b"202.90") == 1


def test_a_day_off_moves_the_last_day_to_order(office, site):
    draft = site.draft()
    thursday = order_of(site.by.company, draft.pk).order_by
    Supplier.objects.update(holidays=[thursday.isoformat()])

    # Thursday is off: two working days before Monday are Friday and Wednesday
    assert (thursday - order_of(site.by.company, draft.pk).order_by).days == 1


def test_a_break_is_set_by_the_form(office, site):
    entry = {
        "supplier": site.supplier.pk,
        "pack": "shims/bundle-50",
        "price": "8.25",
        "valid_from": "2026-06-08",
        "minimum_packs": "2",
    }

    refused = office.post(reverse("price-add"), {**entry, "breaks": "10 at 9"})
    office.post(reverse("price-add"), {**entry, "breaks": "10 at 7.50\r\n40 at 7"})

    assert refused.context["form"].errors["breaks"] == [
        "From 10 packs on the price does not fall. Give breaks that lower the price."
    ]
    price = site.supplier.prices.get(material="shims", valid_from="2026-06-08")
    assert (price.breaks, price.minimum_packs) == ([[10, 7_50], [40, 7_00]], 2)


def test_a_draft_past_its_last_day_says_that_it_is_late(office, site):
    draft = site.draft()
    Supplier.objects.update(lead_days=30)  # six weeks, for a house of three weeks from now

    assert "It was to be ordered by" in page(office, draft)
    assert "late: was due" in office.get(reverse("order-week", args=[site.monday])).content.decode()


def test_the_week_issues_each_draft_with_one_press(office, site):
    draft = site.draft()
    form = form_of(office.get(reverse("order-week", args=[site.monday])))
    site.widen("W1", 48)

    stale = office.post(reverse("order-issue", args=[draft.pk]), form)
    site.widen("W1", 36)
    office.post(reverse("order-issue", args=[draft.pk]), form)

    assert stale.status_code == 409
    assert "A house changed since this draft was made" in stale.content.decode()
    draft.refresh_from_db()
    assert draft.number.endswith("-001")
    assert "Issue order to" not in office.get(reverse("order-week", args=[site.monday])).content.decode()
