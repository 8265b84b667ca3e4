"""The cut list of an order: its own strips from its own rolls; worked by hand.

The order covers W1 36 x 60 and W2 24 x 36, see `tests/materials/orders/test_golden.py`.
"""

from __future__ import annotations

import pytest
from django.urls import reverse

from materials import services
from materials.errors import NotIssued
from materials.selectors.cut_pages import order_cut_page
from projects.errors import NotAllowed, NotThere
from projects.quantities.length import Length
from tests.materials.orders.building import build, issue

pytestmark = pytest.mark.django_db


@pytest.fixture
def site(manager):
    return build(manager)


def laid_out(order) -> dict[str, list[tuple[str, list[float], float]]]:
    """Return by material each roll: its pack, the inches of its strips, the inches that are left."""
    page = order_cut_page(order.company, order.pk)
    return {
        material.key: [
            (roll.row.pack, sorted(strip.length.in_inches for strip in roll.strips), roll.left.in_inches)
            for roll in material.rolls
        ]
        for material in page.materials
    }


def test_an_order_is_cut_from_the_rolls_that_it_brings(site):
    order = site.issued()
    build(site.by, code="LOT-2")  # wanted the same day, but of another order

    services.make_cut_list(by=site.by, order=order)

    found = laid_out(order)
    # W1 54.5 twice, 77.5 twice, W2 42.5 twice, 53.5 twice: 456 of 600 in; pans 48.5 and 36.5: 85 of 600
    assert found["membrane-9in"] == [("roll-50ft", [42.5, 42.5, 53.5, 53.5, 54.5, 54.5, 77.5, 77.5], 144.0)]
    assert found["membrane-12in"] == [("roll-50ft", [36.5, 48.5], 515.0)]
    # 165 ft are 1,980 in; four flap tapes
    ((pack, tapes, _),) = found["wrb-tape-3in"]
    assert (pack, len(tapes)) == ("roll-165ft", 4)
    assert set(found) == {"membrane-9in", "membrane-12in", "wrb-tape-3in"}


def test_what_stock_gave_is_not_cut_from_the_order(site):
    # an offcut of 90 in holds the pan of 48.5 and the one of 36.5
    services.add_offcut(
        by=site.by, material="membrane-12in", name="B-1", length_nm=Length.inches(90).nm, key="offcut"
    )
    order = site.issued()

    services.make_cut_list(by=site.by, order=order)

    assert "membrane-12in" not in laid_out(order)


def test_a_roll_that_came_is_cut_and_its_rest_goes_back(site):
    order = site.issued()
    line = order.lines.get(material="membrane-9in")
    services.receive_delivery(
        by=site.by, order=order, came=[services.Came(line.pk, good=1, number="M-7")], key="came"
    )
    row = services.make_cut_list(by=site.by, order=order)
    roll = row.rolls.get(material="membrane-9in")

    services.cut_roll(by=site.by, roll=roll, kept_nm=Length.inches(140).nm)

    assert roll.lot.number == "M-7"
    assert row.rolls.get(material="membrane-12in").lot is None  # still to come
    again = services.make_cut_list(by=site.by, order=order)
    assert [roll.material for roll in again.rolls.filter(cut_at=None)] == ["membrane-12in", "wrb-tape-3in"]


def test_a_draft_and_another_companys_order_have_no_list(site, foreman, stranger):
    draft = site.draft()
    with pytest.raises(NotIssued):
        services.make_cut_list(by=site.by, order=draft)
    order = issue(draft, by=site.by)
    with pytest.raises(NotThere):
        services.make_cut_list(by=stranger, order=order)
    assert services.make_cut_list(by=foreman, order=order).order == order


def test_crew_reads_the_list_and_the_order_leads_to_it(client_of, site, hand):
    order = site.issued()
    address = reverse("cut-list-order", args=[order.pk])

    assert address in client_of(site.by).get(reverse("order", args=[order.pk])).content.decode()
    client_of(site.by).post(reverse("cut-list-order-make", args=[order.pk]))

    page = client_of(hand).get(address).content.decode()
    assert f"order {order.number}" in page
    assert "W1" in page
    with pytest.raises(NotAllowed):
        services.make_cut_list(by=hand, order=order)
