"""The pages of stock and deliveries: who sees what, what a form does, how many queries it takes."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from materials import services
from materials.models import Delivery, Lot, MinimumLevel, Movement, Place
from materials.selectors.orders import local_today
from materials.services.ledger import truck_of
from tests.factories.houses import HouseFactory
from tests.materials.stock.building import TUBE, key, shop, there, told, tubes

pytestmark = pytest.mark.django_db


@pytest.fixture
def office(client_of, manager):
    return client_of(manager)


def at(name, *arguments):
    return reverse(name, args=arguments)


def sent(client, address, **entry):
    """Send a page's form as a person does, with the key that the page carries."""
    page = client.get(address).content.decode()
    carried = re.search(r'name="key" value="([^"]+)"', page)
    return client.post(address, {**({"key": carried[1]} if carried else {}), **entry})


def read(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def test_empty_stock_says_what_comes_first(office, client_of, foreman):
    assert "Nothing is in stock yet" in read(office, at("stock"))
    assert at("stock-new") in read(office, at("stock"))
    assert at("stock-new") not in read(client_of(foreman), at("stock"))
    assert "No lot lies in the shop" in read(office, at("stock-count"))


def test_stock_shows_each_lot_where_it_lies_and_until_when(office, manager):
    today = local_today(manager.company)
    soon = tubes(manager, 12, lot="S-114", last_good=today + timedelta(days=3))
    tubes(manager, 5, lot="S-9", last_good=today - timedelta(days=1))
    services.move_lot(
        by=manager, lot=soon, place=shop(manager), to=truck_of(manager, "RED"), pieces=2, key=key()
    )
    services.set_minimum(by=manager, material="sealant", quantity=13 * TUBE)

    (shown,) = office.get(at("stock")).context["page"].materials
    page = read(office, at("stock"))

    # 17 tubes lie there, 12 of them good, 13 must stay
    assert shown.total == "17 x cartridge of 10.1 fl oz"
    assert (shown.minimum, shown.is_below) == ("13 x cartridge of 10.1 fl oz", True)
    assert [lot.standing for lot in shown.lots] == ["past", "soon"]
    assert [heap.told for heap in shown.lots[1].heaps] == [
        "10 x cartridge of 10.1 fl oz",
        "2 x cartridge of 10.1 fl oz",
    ]
    assert "truck RED" in page
    assert "Too little is good." in page


def test_found_lot_is_added_once_however_often_it_is_sent(office, manager):
    page = read(office, at("stock-new"))
    carried = re.search(r'name="key" value="([^"]+)"', page)[1]
    entry = {"key": carried, "pack": "sealant/case-12", "packs": "2", "number": "S-1", "last_good": ""}

    answers = [office.post(at("stock-new"), entry) for _ in range(2)]

    lot = Lot.objects.get()
    assert {answer["Location"] for answer in answers} == {at("lot", lot.pk)}
    assert told(lot) == [("count", 24, 24)]


def test_count_sets_what_was_filled_in_and_leaves_the_rest(office, manager):
    counted, left = tubes(manager, 12, lot="A"), tubes(manager, 5, lot="B")

    answer = sent(office, at("stock-count"), **{f"lot-{counted.pk}": "9"})

    assert answer.status_code == 302
    assert told(counted) == [("count", 12, 12), ("count", -3, 9)]
    assert told(left) == [("count", 5, 5)]


def test_level_is_set_in_what_is_counted(office, manager):
    sent(office, at("stock-level"), material=f"sealant/{TUBE}", pieces="6")

    assert MinimumLevel.objects.get().quantity == 6 * TUBE


def test_foreman_uses_and_moves_but_does_not_scrap(client_of, foreman, manager):
    lot, truck = tubes(manager, 12), client_of(foreman)
    house = HouseFactory(project__company=manager.company)
    address, place = at("lot-take", lot.pk), shop(manager).pk

    used = sent(truck, address, kind="use", pieces="2", place=place)
    moved = sent(truck, address, kind="move", pieces="3", place=place, to=f"house-{house.pk}")
    named = sent(truck, address, kind="move", pieces="1", place=place, truck="RED")
    scrapped = sent(truck, address, kind="scrap", pieces="1", place=place)
    nowhere = sent(truck, address, kind="move", pieces="1", place=place)
    too_many = sent(truck, address, kind="use", pieces="7", place=place)

    assert [each.status_code for each in (used, moved, named)] == [302, 302, 302]
    assert [each.status_code for each in (scrapped, nowhere, too_many)] == [422, 422, 409]
    assert "Only 6 of" in too_many.content.decode()
    assert there(lot, shop(manager)) == 6
    assert sorted(str(place) for place in Place.objects.all()) == [f"house {house.code}", "shop", "truck RED"]
    ledger = read(truck, at("lot", lot.pk))
    assert "−2 x cartridge of 10.1 fl oz" in ledger
    assert "Ferris Tamm" in ledger


def test_crew_sees_stock_and_no_form(client_of, hand, manager):
    lot = tubes(manager, 12)
    crew = client_of(hand)

    for page in (read(crew, at("stock")), read(crew, at("lot", lot.pk))):
        assert "<form method" not in page.partition("<main")[2].partition("</main")[0]
        assert "$" not in page
    assert crew.get(at("lot-take", lot.pk)).status_code == 403


def test_foreman_receives_in_parts_and_sees_no_price(client_of, foreman, site, office):
    order = site.issued()
    sealant = order.lines.get(material="sealant")
    truck = client_of(foreman)
    assert at("order-receive", order.pk) in read(truck, at("stock"))
    assert "$" not in read(truck, at("order-receive", order.pk))

    answer = sent(
        truck,
        at("order-receive", order.pk),
        **{
            f"good-{sealant.pk}": "3",
            f"number-{sealant.pk}": "S-131",
            f"day-{sealant.pk}": "2027-06-30",
            f"damaged-{sealant.pk}": "1",
        },
    )

    assert (answer.status_code, answer["Location"]) == (302, at("stock"))
    lot = Lot.objects.get()
    assert (lot.number, there(lot, shop(site.by))) == ("S-131", 3)
    page = read(office, at("order", order.pk))
    assert "part delivered" in page
    assert "lot <bdi>S-131</bdi>" in page
    assert "1 damaged" in page


def test_same_form_twice_is_one_delivery_and_too_many_is_said(office, site):
    order = site.issued()
    sealant, address = order.lines.get(material="sealant"), at("order-receive", order.pk)
    carried = re.search(r'name="key" value="([^"]+)"', read(office, address))[1]
    entry = {"key": carried, f"good-{sealant.pk}": "6"}

    office.post(address, entry)
    page = office.post(address, entry, follow=True).content.decode()

    assert (Delivery.objects.count(), Movement.objects.count()) == (1, 1)
    assert "2 more than ordered came of Window sealant." in page
    assert "2 too many" in page


@pytest.mark.parametrize(
    ("field", "entered"), [("good", "-1"), ("good", "many"), ("day", "30.6."), ("damaged", "1.5")]
)
def test_what_can_not_be_is_refused_at_its_field(office, site, field, entered):
    order = site.issued()
    line = order.lines.first()

    answer = sent(office, at("order-receive", order.pk), **{f"{field}-{line.pk}": entered})

    assert answer.status_code == 422
    assert answer.context["form"].errors.keys() == {f"{field}-{line.pk}"}
    assert not Delivery.objects.exists()


def test_nothing_filled_in_and_a_draft_are_refused(office, site):
    draft = site.draft()
    assert office.get(at("order-receive", draft.pk)).status_code == 409
    order = services.issue_order(
        by=site.by, order=draft, key="form-1", seen=office.get(at("order", draft.pk)).context["seen"]
    )

    answer = sent(office, at("order-receive", order.pk))

    assert answer.status_code == 422
    assert "Say what came of at least one line." in answer.content.decode()


def queries(client, address):
    with CaptureQueriesContext(
        connection,
    ) as captured:
        assert client.get(address).status_code == 200
    return len(captured)


def test_pages_take_as_many_queries_for_twenty_lots_as_for_one(office, site):
    order = site.issued()
    lot = tubes(site.by, 12)
    addresses = [at("stock"), at("lot", lot.pk), at("stock-count"), at("order-receive", order.pk)]
    office.get("/")
    few = [queries(office, address) for address in addresses]

    for number in range(19):
        tubes(site.by, 3, lot=f"S-{number}")
        if number < 9:
            services.take_from_lot(by=site.by, lot=lot, place=shop(site.by), kind="use", pieces=1, key=key())

    assert [queries(office, address) for address in addresses] == few
    assert max(few) <= 12
