"""Everything that can be done has a way back, and nothing is only asked "are you sure?"."""

from __future__ import annotations

import re

import pytest
from django.conf import settings
from django.urls import reverse

from materials import services
from materials.models import MinimumLevel, NeedDate, Price, PurchaseOrder
from tests.access import matrix
from tests.access.ways_back import WAYS_BACK
from tests.materials.orders.building import build

ASKS = re.compile(r"\bconfirm\(|data-confirm|hx-confirm|are you sure", re.IGNORECASE)
ROWS = matrix.rows()
# the roles of the matrix that are signed in
TAKES = {row.route for row in ROWS if row.method == "POST" and set(row.expected.values()) - {302, 405}} | {
    row.route for row in ROWS if row.method == "POST" and 302 in [row.expected[r] for r in ("crew", "owner")]
}


def missing(routes, ways):
    return sorted(set(routes) - set(ways))


def test_every_address_that_takes_a_form_has_its_way_back():
    named = {pattern.name for pattern in matrix.routes()}

    assert missing(TAKES, WAYS_BACK) == []
    assert missing(WAYS_BACK, TAKES) == []
    assert [
        (route, way) for route, way in WAYS_BACK.items() if not way.told or missing(way.routes, named)
    ] == []
    leads_nowhere = [
        (route, back) for route, way in WAYS_BACK.items() for back in way.routes if back not in TAKES
    ]
    assert leads_nowhere == []


def test_an_address_without_a_way_back_would_be_seen():
    """Negative control."""
    assert missing({*TAKES, "house-burn"}, WAYS_BACK) == ["house-burn"]


def asking():
    """Return the templates and scripts of ours that ask instead of offering a way back."""
    own = [*settings.ROOT.glob("templates/**/*.html"), *settings.ROOT.glob("static/**/*.js")]
    assert len(own) > 50
    return [str(file) for file in own if ASKS.search(file.read_text(encoding="utf-8"))]


def test_nothing_asks_whether_somebody_is_sure():
    assert asking() == []


@pytest.mark.parametrize(
    "text", ['<button hx-confirm="Really?">', "if (confirm('x'))", "<p>Are you sure?</p>"]
)
def test_a_page_that_asks_would_be_seen(text):
    """Negative control."""
    assert ASKS.search(text)


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


@pytest.fixture
def site(manager):
    return build(manager)


def undo_of(answer):
    """Return the address of the notice's Undo button."""
    notice = answer.content.decode().partition('<div class="notice">')[2]
    return re.search(r'<form method="post" action="([^"]+)">', notice)[1]


def days(site):
    rows = NeedDate.objects.filter(elevation__house=site.house)
    return sorted((row.elevation.name, row.date, row.basis) for row in rows)


def without_days(office, site):
    """Take the days of the house away, as its form would."""
    address = reverse("need-dates", args=[site.house.pk])
    version = office.get(address).context["form"]["version"].value()
    return office.post(address, {"version": version}, follow=True)


def test_need_dates_are_taken_back_by_the_notices_button(office, site):
    before = days(site)

    saved = without_days(office, site)
    assert days(site) == []
    back = office.post(undo_of(saved), follow=True)

    assert before == [("Front", site.tuesday, "builder")]
    assert days(site) == before
    assert "are as they were" in back.content.decode()


def test_what_somebody_changed_since_is_not_taken_back(office, site, foreman):
    saved = without_days(office, site)
    face = site.house.elevations.get(name="Front")
    services.set_need_dates(by=foreman, elevations=[face], day=site.monday)

    back = office.post(undo_of(saved))

    assert back.status_code == 409
    assert "Somebody changed it since" in back.content.decode()
    assert days(site) == [("Front", site.monday, "builder")]


def test_an_undo_that_nobody_sealed_is_not_there(office, site):
    assert office.post(reverse("need-dates-back", args=[site.house.pk, "abc:def:ghi"])).status_code == 404
    assert days(site) == [("Front", site.tuesday, "builder")]


def test_another_companys_undo_is_not_there(office, client_of, stranger, site):
    saved = without_days(office, site)

    assert client_of(stranger).post(undo_of(saved)).status_code in {403, 404}
    assert days(site) == []


def test_a_minimum_is_taken_back_by_the_notices_button(office, site):
    services.set_minimum(by=site.by, material="shims", quantity=100)

    page = office.get(reverse("stock-level")).content.decode()
    counted = re.search(r'value="(shims/\d+)"', page)[1]
    saved = office.post(reverse("stock-level"), {"material": counted, "pieces": "3"}, follow=True)
    assert MinimumLevel.objects.get().quantity == 3 * int(counted.partition("/")[2])
    back = office.post(undo_of(saved), follow=True)

    assert MinimumLevel.objects.get().quantity == 100
    assert "The minimum is as it was." in back.content.decode()


def price_form(site, price):
    return {
        "supplier": site.supplier.pk, "pack": "shims/bundle-50", "price": price, "valid_from": "2026-02-02",
        "minimum_packs": "1", "breaks": "", "source": "",
    }  # fmt: skip


def test_a_price_set_wrongly_is_withdrawn_by_the_notices_button(office, site):
    saved = office.post(reverse("price-add"), price_form(site, "825.00"), follow=True)
    wrong = Price.objects.filter(material="shims", valid_from="2026-02-02")
    assert wrong.get().price_cents == 825_00

    back = office.post(undo_of(saved), follow=True)

    assert not wrong.exists()
    assert "The price is withdrawn." in back.content.decode()


def test_a_price_corrected_wrongly_gets_its_terms_of_before(office, site):
    office.post(reverse("price-add"), price_form(site, "8.25"), follow=True)
    saved = office.post(reverse("price-add"), price_form(site, "82.50"), follow=True)

    office.post(undo_of(saved))

    assert Price.objects.get(material="shims", valid_from="2026-02-02").price_cents == 8_25


def test_a_discarded_draft_is_made_again_by_the_notices_button(office, site):
    draft = site.draft()
    lines = [(line.material, line.pack, line.packs) for line in draft.lines.all()]

    gone = office.post(reverse("order-discard", args=[draft.pk]), follow=True)
    assert not PurchaseOrder.objects.exists()
    office.post(undo_of(gone))

    again = PurchaseOrder.objects.get()
    assert [(line.material, line.pack, line.packs) for line in again.lines.all()] == lines
