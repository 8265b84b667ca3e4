"""Between rows of suppliers, prices and orders and the values that the core reads; no query here."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from materials.models import OrderEvent, OrderLine, Price, PurchaseOrder, Supplier
from materials.ordering import problem
from materials.ordering.buying import Market
from materials.ordering.states import DRAFT
from projects.quantities.money import Money


def prices_on(today: date, prices: Iterable[Price]) -> list[Price]:
    """Return of each supplier's pack the newest price that is valid by `today`."""
    newest: dict[tuple[int, str, str], Price] = {}
    for price in sorted(prices, key=lambda price: price.valid_from):
        if price.valid_from <= today:
            newest[price.supplier_id, price.material, price.pack] = price
    return list(newest.values())


def market_of(
    *, today: date, currency: str, suppliers: Iterable[Supplier], prices: Iterable[Price]
) -> Market:
    """Return who sells what on `today`, each pack at its one price in `prices`."""
    codes = {supplier.pk: supplier.code for supplier in suppliers}
    packs = tuple(
        problem.Pack(
            price.material,
            codes[price.supplier_id],
            price.pack,
            price.pack_size,
            Money(price.price_cents, currency),
        )
        for price in prices
    )
    values = tuple(
        problem.Supplier(supplier.code, supplier.lead_days, minimum=Money(supplier.minimum_cents, currency))
        for supplier in suppliers
    )
    return Market(today, packs, values, currency)


def state_of(order: PurchaseOrder, events: Iterable[OrderEvent]) -> str:
    """Return the order's state: the last of its events, or that it is a draft."""
    state = DRAFT
    for event in sorted(events, key=lambda event: event.pk):
        state = event.kind
    return state if order.number else DRAFT


def content_hash_of(order: PurchaseOrder, lines: Iterable[OrderLine]) -> str:
    """Return a SHA-256 of all that the supplier reads; it is kept at issue and never differs again."""
    content = {
        "supplier": order.supplier_id,
        "week": order.week.isoformat(),
        "deliver_to": order.deliver_to,
        "deliver_by": order.deliver_by.isoformat() if order.deliver_by else None,
        "currency": order.currency,
        "lines": [
            [line.position, line.material, line.description, line.pack, line.pack_size, line.packs,
             line.unit_price_cents, line.total_cents]
            for line in sorted(lines, key=lambda line: line.position)
        ],
        "total": order.total_cents,
    }  # fmt: skip
    return _hash(content)


def inputs_hash(inputs: Mapping[str, Any], rules_version: str) -> str:
    """Return a SHA-256 of what an order's numbers come from, and of the rules' version."""
    return _hash([rules_version, inputs])


def issue_body_hash(order: PurchaseOrder, content: str) -> str:
    """Return a SHA-256 of what a person sends to issue an order: which one, and the content that was seen."""
    return _hash([order.pk, content])


def _hash(value: object) -> str:
    return hashlib.sha256(json.dumps(value, sort_keys=True).encode()).hexdigest()
