"""I5: an issued order never changes, whatever writes: rows, bulk, raw SQL; held by the database."""

from __future__ import annotations

import pytest
from django.db import IntegrityError, connection, transaction
from django.utils import timezone

from materials.convert import content_hash_of
from materials.models import Coverage, OrderEvent, OrderLine, PurchaseOrder
from materials.ordering.states import FOLLOWS
from openings.models import Opening
from projects import triggers
from tests.factories.people import MembershipFactory
from tests.materials.orders.building import build

pytestmark = pytest.mark.django_db


def order_row():
    return PurchaseOrder.objects.get()


def sql(statement):
    with connection.cursor() as cursor:
        cursor.execute(statement)


def save_changed(row, **values):
    for name, value in values.items():
        setattr(row, name, value)
    row.save()


def bulk_changed(row, **values):
    for name, value in values.items():
        setattr(row, name, value)
    type(row).objects.bulk_update([row], list(values))


def one_line():
    return OrderLine.objects.first()


def one_cover():
    return Coverage.objects.first()


def copied(row):
    row.pk, row._state.adding = None, True
    return row


def line_more():
    line = copied(one_line())
    line.position = 99
    line.save()


def cover_more():
    cover = copied(one_cover())
    cover.round = 9
    cover.save()


WRITES = {
    "order saved": lambda: save_changed(order_row(), total_cents=1),
    "order saved unchanged": lambda: order_row().save(),
    "order updated": lambda: PurchaseOrder.objects.update(total_cents=1),
    "order updated in bulk": lambda: bulk_changed(order_row(), deliver_to="elsewhere"),
    "number taken away": lambda: PurchaseOrder.objects.update(
        number=None, issued_at=None, content_hash="", issue_key=None
    ),
    "order deleted": lambda: PurchaseOrder.objects.all()._raw_delete("default"),
    "order by SQL": lambda: sql("UPDATE materials_purchaseorder SET deliver_to = 'elsewhere'"),
    "order deleted by SQL": lambda: sql("DELETE FROM materials_purchaseorder"),
    "line saved": lambda: save_changed(one_line(), description="other"),
    "line updated": lambda: OrderLine.objects.update(packs=2, total_cents=1),
    "line deleted": lambda: one_line().delete(),
    "lines deleted": lambda: OrderLine.objects.all()._raw_delete("default"),
    "line added": line_more,
    "line by SQL": lambda: sql("UPDATE materials_orderline SET need = 0"),
    "cover updated": lambda: Coverage.objects.update(quantity=1),
    "cover's pieces updated": lambda: Coverage.objects.update(pieces={}),
    "cover ended": lambda: Coverage.objects.update(live=False),
    "cover deleted": lambda: one_cover().delete(),
    "cover added": cover_more,
    "event updated": lambda: OrderEvent.objects.update(kind="closed"),
    "event deleted": lambda: OrderEvent.objects.all()._raw_delete("default"),
}


def everything():
    return [
        list(model.objects.order_by("pk").values_list())
        for model in (PurchaseOrder, OrderLine, OrderEvent, Coverage)
    ]


@pytest.mark.parametrize("write", WRITES)
def test_every_way_to_write_is_refused(site, write):
    order = site.issued()
    before = everything()

    with pytest.raises(IntegrityError), transaction.atomic():
        WRITES[write]()

    assert everything() == before
    order.refresh_from_db()
    assert content_hash_of(order, order.lines.all()) == order.content_hash


def test_the_same_writes_pass_on_a_draft(site):
    site.draft()
    refused_anyway = {
        "order saved unchanged",
        "line updated",
        "event updated",
        "event deleted",
        "order deleted",
        "order deleted by SQL",
        "lines deleted",
        "line deleted",
    }
    for name, write in WRITES.items():
        if name not in refused_anyway:
            with transaction.atomic():
                write()
                transaction.set_rollback(True)


def test_negative_control_without_triggers_the_order_changes(site):
    order = site.issued()

    with triggers.lifted():
        PurchaseOrder.objects.update(deliver_to="elsewhere")

    order.refresh_from_db()
    assert content_hash_of(order, order.lines.all()) != order.content_hash


def event(order, kind):
    return OrderEvent.objects.create(
        company=order.company, order=order, kind=kind, at=timezone.now(), by=order.issued_by
    )


PATHS = [
    ("acknowledged", "part delivered", "closed"),
    ("acknowledged", "part delivered", "cancelled"),
    ("acknowledged", "closed"),
    ("part delivered", "closed"),
    ("cancelled",),
    ("closed",),
]


@pytest.mark.parametrize("path", PATHS, ids=", ".join)
def test_events_follow_the_graph(site, path):
    order = site.issued()

    for kind in path:
        event(order, kind)

    assert [each.kind for each in order.events.all()] == ["issued", *path]


def test_no_event_comes_out_of_turn(site):
    order = site.issued()
    told = list(FOLLOWS)
    for first in ("issued", "acknowledged", "part delivered", "closed", "cancelled"):
        with transaction.atomic():
            if first != "issued":
                event(order, first)
            for then in told:
                allowed = first in FOLLOWS[then]
                with transaction.atomic():
                    try:
                        with transaction.atomic():
                            event(order, then)
                        passed = True
                    except IntegrityError:
                        passed = False
                    transaction.set_rollback(True)
                assert passed == allowed, f"{first} > {then}"
            transaction.set_rollback(True)


def test_draft_takes_no_event(site):
    draft = site.draft()

    with pytest.raises(IntegrityError), transaction.atomic():
        event(draft, "issued")

    assert not OrderEvent.objects.exists()


def test_cancelled_order_gives_its_demand_back(site):
    order = site.issued()
    event(order, "cancelled")

    Coverage.objects.filter(line__order=order).update(live=False)

    again = site.draft()
    assert again.total_cents == 189_90
    with pytest.raises(IntegrityError), transaction.atomic():
        Coverage.objects.filter(line__order=order).update(live=True)


def test_same_demand_is_not_covered_twice(site):
    site.draft()
    cover = copied(one_cover())

    with pytest.raises(IntegrityError), transaction.atomic():
        cover.save()

    assert Coverage.objects.count() == 16


def test_nothing_of_an_order_points_to_another_company(site, stranger):
    site.draft()
    foreign = build(MembershipFactory(company=stranger.company), code="LOT-9")

    for write in (
        lambda: Coverage.objects.update(opening=Opening.objects.filter(house=foreign.house).first()),
        lambda: PurchaseOrder.objects.update(supplier=foreign.supplier),
    ):
        with pytest.raises(IntegrityError), transaction.atomic():
            write()
