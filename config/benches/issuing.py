"""How long it takes to issue an order of very many lines, from the press to the page."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from django.db import transaction
from django.urls import reverse

from config.benches.figure import Figure
from config.benches.machine import Spent, spent
from config.benches.office import founded, signed_in
from materials import services
from materials.catalogue.load import load_catalogue
from materials.convert import content_hash_of
from materials.models import OrderLine, PurchaseOrder, Supplier
from materials.selectors.orders import local_today
from projects.models import Membership

TRIES = 3
PACKS, CENTS = 3, 4200


def measure(*, small: bool) -> Iterator[Figure]:
    """Issue drafts of 500 lines in a browser, each another one, until its page is there. Best of several."""
    by, count = founded(), 20 if small else 500
    client = signed_in(by)
    supplier = services.set_supplier(by=by, supplier=None, code="S", name="Supplier")
    tries = []
    for number in range(1 if small else TRIES):
        order = _draft(by, supplier, lines=count)
        entry = {"key": f"form-{number}", "seen": content_hash_of(order, order.lines.all())}
        tries.append(spent(client.post, reverse("order-issue", args=[order.pk]), entry, follow=True))
        order.refresh_from_db()
        if order.number is None:
            raise ValueError("the order was not issued")
    yield Figure.of_time(f"order of {count} lines issued", Spent.least(tries), 1)


@transaction.atomic
def _draft(by: Membership, supplier: Supplier, *, lines: int) -> PurchaseOrder:
    """Return a draft that nobody's houses stand behind: all there is to it are its lines."""
    today: date = local_today(by.company)
    order = PurchaseOrder.objects.create(
        company=by.company,
        supplier=supplier,
        week=today,
        deliver_by=today,
        input_hash="0" * 64,
        rules_version="1",
        total_cents=lines * PACKS * CENTS,
    )
    packs = [(each, pack) for each in load_catalogue().materials.values() for pack in each.packs]
    for position in range(1, lines + 1):
        material, pack = packs[position % len(packs)]
        OrderLine.objects.create(
            company=by.company,
            order=order,
            position=position,
            material=material.key,
            description=material.name,
            need=pack.contains,
            unit=material.unit,
            pack=pack.label.key,
            pack_size=pack.contains,
            packs=PACKS,
            unit_price_cents=CENTS,
            total_cents=PACKS * CENTS,
        )
    return order
