"""Why this number: from the openings to the packs, for a week's need and an order's line; worked by hand.

W1 is 36 x 60 and W2 24 x 36; what they come to is worked in `test_golden.py`.
"""

from __future__ import annotations

import pytest
from django.urls import reverse

from materials import services
from materials.catalogue.load import load_catalogue
from materials.selectors.why import why_line, why_need
from projects.errors import NotThere
from projects.quantities.money import Money
from tests.materials.orders.building import build

pytestmark = pytest.mark.django_db
CARTRIDGE = load_catalogue().material("sealant").pack("cartridge-10.1oz").contains


def line_of(order, material):
    return order.lines.select_related("order__supplier", "company").filter(material=material).first()


def test_a_line_of_strips_names_each_openings_pieces(site):
    why = why_line(line_of(site.draft(), "membrane-9in"))

    assert [(share.mark, share.quantity, share.pieces) for share in why.shares] == [
        ("W1", "22'-0\"", '2 x 77 1/2", 2 x 54 1/2"'),  # 264 in
        ("W2", "16'-0\"", '2 x 53 1/2", 2 x 42 1/2"'),  # 192 in
    ]
    # 456 in of a roll of 600
    assert (why.covered, why.holds, why.bought, why.left) == ("38'-0\"", "50'-0\"", "50'-0\"", "12'-0\"")
    assert why.price.price_cents == 29_00
    assert why.beyond == ""


def test_what_was_bought_for_the_shelf_is_told_apart(site):
    services.set_minimum(by=site.by, material="sealant", quantity=2 * CARTRIDGE)

    why = why_line(line_of(site.draft(), "sealant"))

    # 67.74 in3 for the windows, two cartridges of 18.227 for the shelf: 104.2 in six of them
    assert (why.covered, why.beyond) == ("67.7 in³", "36.5 in³")
    assert (why.line.packs, why.bought, why.left) == (6, "109.4 in³", "5.2 in³")


def test_a_price_that_came_later_is_not_the_lines(site):
    draft = site.draft()
    services.set_price(
        by=site.by,
        supplier=site.supplier,
        material="foam",
        pack="can",
        price=Money(99_00),
        valid_from=site.tuesday,
    )

    assert why_line(line_of(draft, "foam")).price.price_cents == 13_00


def test_a_week_says_who_needs_it_and_who_gives_it(site):
    site.issued()
    build(site.by, code="LOT-2")
    services.add_stock(by=site.by, material="pan-corner", pack="", packs=3, key="found")

    why = why_need(site.by.company, site.monday, "pan-corner")

    # two houses of two windows, two corners each; the first are ordered, of the others three are here
    assert [(share.house, share.mark, share.quantity) for share in why.shares] == [
        ("LOT-1", "W1", "2"),
        ("LOT-1", "W2", "2"),
        ("LOT-2", "W1", "2"),
        ("LOT-2", "W2", "2"),
    ]
    assert (why.needed, why.ordered, why.stock, why.short) == ("8", "4", "3", "1")
    assert [share.source for share in why.shares[2:]] == ["stock", "stock, part short"]
    assert all(share.source.startswith("order 20") for share in why.shares[:2])
    assert [(line.material, line.packs) for line in why.lines] == [("pan-corner", 4)]


def test_what_the_week_does_not_need_has_no_reasons(site):
    why = why_need(site.by.company, site.monday, "drip-cap")

    assert (why.needed, why.shares, why.lines) == ("", (), ())
    with pytest.raises(NotThere):
        why_need(site.by.company, site.monday, "no-such-thing")


def test_every_quantity_is_one_press_from_its_reasons(client_of, site):
    draft = site.draft()
    office = client_of(site.by)

    week = office.get(reverse("order-week", args=[site.monday])).content.decode()
    order = office.get(reverse("order", args=[draft.pk])).content.decode()

    for line in draft.lines.all():
        need = reverse("order-week-why", args=[site.monday, line.material])
        why = reverse("order-line-why", args=[draft.pk, line.position])
        assert need in week
        assert why in order
        assert reverse("opening", args=[site.opening("W1").pk]) in office.get(need).content.decode()
        assert line.description in office.get(why).content.decode()


def test_reasons_take_as_many_queries_for_many_openings_as_for_one(
    client_of, site, django_assert_max_num_queries
):
    office = client_of(site.by)
    for number in range(2, 7):
        build(site.by, code=f"LOT-{number}")
    draft = site.draft()

    with django_assert_max_num_queries(14):
        office.get(reverse("order-week-why", args=[site.monday, "membrane-9in"]))
    with django_assert_max_num_queries(12):
        office.get(reverse("order-line-why", args=[draft.pk, 1]))
