"""Offcuts added by hand, ledgers set right, what is kept for whom, prices that differ on delivery."""

from __future__ import annotations

import pytest
from django.urls import reverse

from materials import services
from materials.models import DeliveryLine, Lot
from materials.selectors.deliveries import differences_of
from projects.quantities.length import Length
from projects.quantities.money import Money
from tests.materials.orders.building import build
from tests.materials.stock.building import shop, there, told, tubes
from tests.materials.stock.test_pages import at, read, sent

pytestmark = pytest.mark.django_db


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def test_an_offcut_is_a_lot_of_one_piece_of_its_length(office):
    entry = {"material": "membrane-9in", "length": "14'-6\"", "name": "B-12"}

    bad = sent(office, at("offcut-new"), **{**entry, "length": "long"})
    good = sent(office, at("offcut-new"), **entry)

    assert bad.status_code == 422
    assert "length" in bad.context["form"].errors
    lot = Lot.objects.get()
    assert good.url == at("lot", lot.pk)
    # 14 x 12 + 6 = 174 in
    assert (lot.number, lot.piece_size, lot.pack) == ("B-12", Length.inches(174).nm, "")
    assert "14&#x27;-6" in read(office, at("stock"))


def test_a_wrong_line_is_set_right_by_another(office, manager):
    lot = tubes(manager, 12, lot="S-1")
    place = shop(manager)
    entry = {"place": place.pk, "pieces": "-3", "reason": "Three were counted twice."}

    no_reason = sent(office, at("lot-correct", lot.pk), **{**entry, "reason": ""})
    too_many = sent(office, at("lot-correct", lot.pk), **{**entry, "pieces": "-13"})
    good = sent(office, at("lot-correct", lot.pk), **entry)

    assert (no_reason.status_code, too_many.status_code) == (422, 409)
    assert good.url == at("lot", lot.pk)
    assert told(lot) == [("count", 12, 12), ("correct", -3, 9)]
    assert "Three were counted twice." in read(office, at("lot", lot.pk))


def test_what_stock_and_orders_keep_is_told_by_day_and_house(office, site):
    services.add_stock(by=site.by, material="pan-corner", pack="", packs=3, key="found")
    site.issued()
    other = build(site.by, code="LOT-2")
    services.set_need_dates(by=site.by, elevations=[other.opening("W1").elevation], day=site.monday)
    services.make_drafts(by=site.by, week=site.monday)

    days = office.get(at("stock-promised")).context["days"]

    # the first house takes three corners from stock and one from its order; the second's are only drafted
    corners = [
        (day.day, each.house, each.quantity, each.source.split()[0])
        for day in days
        for each in day.kept
        if each.material == "Pan corner"
    ]
    assert corners == [(site.tuesday, "LOT-1", "3", "stock"), (site.tuesday, "LOT-1", "1", "order")]


def test_nothing_kept_says_when_something_will_be(office):
    assert "Nothing is kept yet" in read(office, at("stock-promised"))


def test_another_price_on_the_note_is_told_on_the_orders_page(office, site):
    order = site.issued()
    sealant, foam = (order.lines.get(material=key) for key in ("sealant", "foam"))

    sent(
        office,
        at("order-receive", order.pk),
        **{
            f"good-{sealant.pk}": "4",
            f"price-{sealant.pk}": "9.50",
            f"good-{foam.pk}": "1",
            f"price-{foam.pk}": "13.00",
        },
    )

    (difference,) = differences_of(order)
    # 4 x (9.50 - 9.00)
    assert (difference.row, difference.packs, difference.more) == (sealant, 4, Money(2_00))
    page = read(office, at("order", order.pk))
    assert "Prices that differ" in page
    assert "4 packs at" in page


def test_the_foreman_is_not_asked_for_prices(client_of, foreman, site):
    order = site.issued()
    client = client_of(foreman)
    line = order.lines.get(material="foam")

    assert "price-" not in read(client, at("order-receive", order.pk))
    sent(client, at("order-receive", order.pk), **{f"good-{line.pk}": "1", f"price-{line.pk}": "99"})

    assert DeliveryLine.objects.get().price_cents is None
    assert there(Lot.objects.get(line=line), shop(site.by)) == 1
    assert reverse("stock") in read(client, at("stock"))
