"""I3, I12: what came is there for ever, once, and the order's state follows it."""

from __future__ import annotations

import pytest
from django.db import IntegrityError, transaction

from config.invariants.verify import verify
from materials import services
from materials.convert import content_hash_of, state_of
from materials.errors import NotIssued, OtherLines
from materials.models import Coverage, Delivery, DeliveryLine, Lot, Movement
from materials.selectors.orders import local_today
from materials.selectors.supply import received_of, shelf_of
from materials.services import Came
from projects import triggers
from projects.errors import BadValue, NotAllowed, NotThere
from projects.models import AuditEntry
from tests.factories.orders import DraftFactory
from tests.materials.orders.building import bought, build
from tests.materials.orders.races import all_at_once
from tests.materials.stock.building import JUNE, TUBE, key, shop, there

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(site):
    return site.issued()


def line(order, material):
    return order.lines.get(material=material)


def everything(order, **more):
    return [Came(each.pk, good=each.packs, **more) for each in order.lines.all()]


def state(order):
    return state_of(order, order.events.all())


def test_packs_that_came_are_a_lot_in_the_shop(site, order, foreman):
    sealant = line(order, "sealant")

    services.receive_delivery(
        by=foreman,
        order=order,
        came=[Came(sealant.pk, good=3, number="S-131", last_good=JUNE[30])],
        key=key(),
    )

    lot = Lot.objects.get()
    assert (lot.number, lot.last_good, lot.pack, lot.line) == (
        "S-131",
        JUNE[30],
        "cartridge-10.1oz",
        sealant,
    )
    assert there(lot, shop(site.by)) == 3
    assert Movement.objects.get().kind == "receive"
    assert state(order) == "part delivered"
    assert AuditEntry.objects.get(action="receive delivery").actor == "Ferris Tamm"


def test_order_closes_with_its_last_pack(site, order):
    sealant = line(order, "sealant")
    first = [each for each in everything(order) if each.line != sealant.pk] + [Came(sealant.pk, good=1)]

    services.receive_delivery(by=site.by, order=order, came=first, key=key())
    assert state(order) == "part delivered"
    services.receive_delivery(by=site.by, order=order, came=[Came(sealant.pk, good=2)], key=key())
    assert state(order) == "part delivered"
    services.receive_delivery(by=site.by, order=order, came=[Came(sealant.pk, good=1)], key=key())

    assert [event.kind for event in order.events.all()] == ["issued", "part delivered", "closed"]
    assert received_of(site.by.company, [sealant.pk])[sealant.pk] == 4 * TUBE
    order.refresh_from_db()
    assert content_hash_of(order, order.lines.all()) == order.content_hash


def test_damaged_and_wrong_packs_are_kept_but_do_not_close(site, order):
    came = everything(order)
    sealant = line(order, "sealant")
    came = [each for each in came if each.line != sealant.pk]
    came.append(Came(sealant.pk, good=2, damaged=1, wrong=1))

    services.receive_delivery(by=site.by, order=order, came=came, key=key())

    row = DeliveryLine.objects.get(line=sealant)
    assert (row.good, row.damaged, row.wrong) == (2, 1, 1)
    assert state(order) == "part delivered"
    # two tubes are still to come
    deliveries = shelf_of(site.by.company, local_today(site.by.company)).supply.deliveries
    assert sum(one.quantity for one in deliveries if one.material == "sealant") <= 2 * TUBE


def test_more_than_ordered_is_taken_as_it_came(site, order):
    services.receive_delivery(by=site.by, order=order, came=everything(order), key=key())
    services.receive_delivery(
        by=site.by, order=order, came=[Came(line(order, "sealant").pk, good=2)], key=key()
    )

    assert state(order) == "closed"
    assert received_of(site.by.company, [line(order, "sealant").pk])[line(order, "sealant").pk] == 6 * TUBE


def test_form_sent_twice_is_one_delivery(site, order):
    form, came = key(), [Came(line(order, "sealant").pk, good=1)]

    first = services.receive_delivery(by=site.by, order=order, came=came, key=form)
    again = services.receive_delivery(by=site.by, order=order, came=came, key=form)

    assert again == first
    assert (Delivery.objects.count(), Lot.objects.count(), Movement.objects.count()) == (1, 1, 1)
    with pytest.raises(OtherLines):
        services.receive_delivery(
            by=site.by, order=order, came=[Came(line(order, "sealant").pk, good=2)], key=form
        )
    assert Movement.objects.count() == 1


def test_nothing_draft_foreign_line_and_less_than_none_are_refused(site, order, stranger, hand):
    draft, mine = DraftFactory(company=site.by.company), line(order, "sealant").pk
    for by, what, came, refusal in [
        (site.by, order, [], BadValue),
        (site.by, order, [Came(mine)], BadValue),
        (site.by, draft, [Came(draft.lines.get().pk, good=1)], NotIssued),
        (site.by, order, [Came(draft.lines.get().pk, good=1)], NotThere),
        (hand, order, [Came(mine, good=1)], NotAllowed),
        (stranger, order, [Came(mine, good=1)], NotThere),
    ]:
        with pytest.raises(refusal):
            services.receive_delivery(by=by, order=what, came=came, key=key())
    with pytest.raises(BadValue):
        Came(mine, good=-1)

    assert not Delivery.objects.exists()
    assert not Lot.objects.exists()


def test_delivered_stock_stays_its_openings_and_the_rest_serves_others(site, order):
    services.receive_delivery(by=site.by, order=order, came=everything(order), key=key())
    other = build(site.by, code="LOT-2")

    (draft,) = services.make_drafts(by=site.by, week=site.monday).orders

    # of 500 screws 34 are LOT-1's; its roll of membrane is, too
    assert "screw-2in" not in bought(draft)
    assert bought(draft)["membrane-9in"] == (1, "roll-50ft", "29.00")
    # 4 tubes came for 3.72: what is over is a quarter of a tube, so LOT-2 needs 3.44 more
    assert bought(draft)["sealant"][0] == 4
    assert Coverage.objects.filter(opening__house=other.house, material="screw-2in", line=None).count() == 2


def test_nothing_is_broken_after_any_delivery(site, order):
    services.receive_delivery(by=site.by, order=order, came=everything(order, number="X"), key=key())

    assert [each.broken for each in verify([site.by.company]) if not each.holds] == []


WRITES = {
    "a delivery changed": lambda order: Delivery.objects.update(note="other"),
    "a delivery deleted": lambda order: Delivery.objects.all()._raw_delete("default"),
    "a line changed": lambda order: DeliveryLine.objects.update(good=9),
    "a line deleted": lambda order: DeliveryLine.objects.all()._raw_delete("default"),
    "a line of another order": lambda order: DeliveryLine.objects.create(
        company=order.company,
        delivery=Delivery.objects.get(),
        line=DraftFactory(company=order.company).lines.get(),
        damaged=1,
    ),
}


@pytest.mark.parametrize("way", WRITES)
def test_what_was_received_is_never_changed(site, order, way):
    services.receive_delivery(by=site.by, order=order, came=everything(order), key=key())
    before = list(DeliveryLine.objects.values_list())

    with pytest.raises(IntegrityError), transaction.atomic():
        WRITES[way](order)

    assert list(DeliveryLine.objects.values_list()) == before


@pytest.mark.parametrize("way", [way for way in WRITES if way != "a delivery deleted"])
def test_without_the_triggers_the_same_would_pass(site, order, way):
    """The negative control."""
    services.receive_delivery(by=site.by, order=order, came=everything(order), key=key())
    told = [list(model.objects.values_list()) for model in (Delivery, DeliveryLine)]

    with triggers.lifted():
        WRITES[way](order)

    assert [list(model.objects.values_list()) for model in (Delivery, DeliveryLine)] != told


@pytest.mark.django_db(transaction=True)
def test_two_who_receive_at_once_are_both_kept_and_one_form_counts_once(site):
    order, form = site.issued(), key()
    came = [Came(line(order, "sealant").pk, good=1)]
    forms = [form, form, form, key(), key()]

    given = all_at_once(
        *[
            lambda each=each: services.receive_delivery(by=site.by, order=order, came=came, key=each)
            for each in forms
        ]
    )

    assert len({delivery.pk for delivery in given}) == 3
    assert received_of(site.by.company, [came[0].line])[came[0].line] == 3 * TUBE
    assert [event.kind for event in order.events.all()] == ["issued", "part delivered"]
