"""What came of an order as a file for its supplier: each delivery by itself, the same for ever."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
import time_machine
from django.urls import reverse

from materials import services
from materials.documents import receipt_file
from materials.models import Delivery, OrderLine
from materials.selectors.deliveries import delivery_of
from projects.errors import NotThere
from tests.materials.exchange.test_change import problems_of, texts
from tests.materials.orders.building import build
from tests.materials.orders.test_order_files import everything_changes

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(site):
    return site.issued()


def receive(site, order, *, key="came", **packs):
    """Receive packs of the sealant line, of which 4 are ordered (test_golden.py)."""
    line = OrderLine.objects.get(order=order, material="sealant")
    came = [services.Came(line.pk, number="S-131", last_good=date(2027, 3, 1), **packs)]
    return services.receive_delivery(by=site.by, order=order, came=came, key=key)


def sealant_in(document, order):
    """Return received, short, rejected and over as the document has them of the sealant line."""
    position = OrderLine.objects.get(order=order, material="sealant").position
    (line,) = [
        each
        for each in document.content.decode().split("<cac:ReceiptLine>")[1:]
        if f"<cbc:LineID>{position}</cbc:LineID>" in each
    ]
    names = ("ReceivedQuantity", "ShortQuantity", "RejectedQuantity", "OversupplyQuantity")
    return [
        int(line.partition(f"<cbc:{name} ")[2].partition(">")[2].partition("<")[0] or 0) for name in names
    ]


def test_each_delivery_has_its_own_receipt_of_what_it_left_open(site, order):
    # 4 ordered: 1 good and 1 damaged leave 2 short; 2 more leave 1 for the damaged one; 3 are 2 too many
    first = receive(site, order, key="a", good=1, damaged=1)
    second = receive(site, order, key="b", good=2)
    third = receive(site, order, key="c", good=3)

    told = [receipt_file(delivery_of(site.by.company, each.pk)) for each in (first, second, third)]

    assert [problems_of(each.content, "ReceiptAdvice") for each in told] == [[], [], []]
    assert [each.name for each in told] == [f"receipt-{order.number}-R{place}.xml" for place in (1, 2, 3)]
    assert [sealant_in(each, order) for each in told] == [[2, 2, 1, 0], [2, 1, 0, 0], [3, 0, 0, 2]]
    # the other seven lines are missing each time
    assert [len(texts(each.content, "LineID")) for each in told] == [8, 8, 8]
    assert texts(told[0].content, "BestBeforeDate") == ["2027-03-01"]


def test_a_receipt_reads_the_same_after_everything_changed(site, order):
    with time_machine.travel(datetime(2026, 6, 9, 1, 30, tzinfo=UTC)):
        delivery = receive(site, order, good=1)
    before = receipt_file(delivery_of(site.by.company, delivery.pk)).content

    everything_changes(site)
    receive(site, order, key="later", good=3)

    assert receipt_file(delivery_of(site.by.company, delivery.pk)).content == before
    # 01:30 in London is the evening before in New York
    assert texts(before, "IssueDate")[0] == "2026-06-08"


def test_nothing_is_missing_of_what_was_cancelled_before_it_came(site, order):
    services.cancel_order(by=site.by, order=order, reason="The builder stopped.")
    delivery = receive(site, order, good=1)

    document = receipt_file(delivery_of(site.by.company, delivery.pk))

    assert sealant_in(document, order) == [1, 0, 0, 0]
    assert texts(document.content, "LineCountNumeric") == ["1"]


def test_order_page_offers_the_receipt_of_each_delivery(client_of, site, order):
    office = client_of(site.by)
    receive(site, order, key="a", good=1)
    receive(site, order, key="b", good=1)

    page = office.get(reverse("order", args=[order.pk])).content.decode()
    answer = office.get(reverse("receipt-xml", args=[Delivery.objects.latest("pk").pk]))

    for delivery in Delivery.objects.all():
        assert page.count(f'href="{reverse("receipt-xml", args=[delivery.pk])}"') == 1
    assert answer["Content-Type"] == "application/xml"
    assert answer["Content-Disposition"] == f'attachment; filename="receipt-{order.number}-R2.xml"'


def test_queries_stay_the_same_with_more_deliveries(site, order, django_assert_num_queries):
    first = receive(site, order, key="a", good=1)
    # which order; it with lines, events, houses; deliveries with lines
    with django_assert_num_queries(7):
        receipt_file(delivery_of(site.by.company, first.pk))
    for number in range(3):
        last = receive(site, order, key=f"later-{number}", good=1)

    with django_assert_num_queries(7):
        receipt_file(delivery_of(site.by.company, last.pk))


def test_another_companys_delivery_is_not_there(site, stranger):
    foreign = build(stranger, code="LOT-9")
    delivery = receive(foreign, foreign.issued(), good=1)

    with pytest.raises(NotThere):
        delivery_of(site.by.company, delivery.pk)
