"""Between rows of suppliers, prices and orders and the values that the core reads; no query here."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

from materials.catalogue.load import load_catalogue
from materials.exchange.order import Before, Line, Order, Party
from materials.exchange.receipt import LineCame
from materials.exchange.unit_codes import unit_code
from materials.models import DeliveryLine, OrderEvent, OrderLine, Price, PurchaseOrder, Supplier
from materials.ordering import problem
from materials.ordering.buying import Market
from materials.ordering.numbers import step_of
from materials.ordering.states import DRAFT
from projects.models import Paper
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
            tuple(problem.PriceBreak(packs, Money(cents, currency)) for packs, cents in breaks_of(price)),
            price.minimum_packs,
        )
        for price in prices
    )
    values = tuple(supplier_value(supplier, currency) for supplier in suppliers)
    return Market(today, packs, values, currency)


def breaks_of(price: Price) -> tuple[tuple[int, int], ...]:
    """Return from how many packs on each costs how many cents, fewest first."""
    return tuple((packs, cents) for packs, cents in price.breaks)


def supplier_value(supplier: Supplier, currency: str) -> problem.Supplier:
    """Return on what terms a supplier sells."""
    return problem.Supplier(
        key=supplier.code,
        lead_days=supplier.lead_days,
        holidays=frozenset(date.fromisoformat(day) for day in supplier.holidays),
        minimum=Money(supplier.minimum_cents, currency),
        freight=Money(supplier.freight_cents, currency),
    )


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
    if order.freight_cents:
        content["freight"] = order.freight_cents
    if order.changes_id:
        content["changes"] = order.changes_id
    return _hash(content)


def heading_of(order: PurchaseOrder, houses: Iterable[str]) -> dict[str, Any]:
    """Return what stands on an order beside its lines, as its rows have it now.

    That is both parties, the codes of its houses, the clock by which it is dated, how often the first
    order was changed, and the paper it is drawn for.
    """
    company, supplier, person = order.company, order.supplier, order.issued_by
    return {
        "buyer": {
            "name": company.name,
            "address": _lines_of(company.yard),
            "contact": person.name if person else "",
            "email": person.email if person else "",
        },
        "seller": {
            "name": supplier.name,
            "address": _lines_of(supplier.address),
            "contact": "",
            "email": supplier.email,
        },
        "houses": sorted(houses),
        "time_zone": company.time_zone,
        "step": _step_of(order),
        "paper": company.paper,
    }


def paper_of(order: PurchaseOrder) -> str:
    """Return what the order's PDF is drawn for: the paper of its issue, a draft the company's of today.

    Orders issued before there was a choice went out on letter.
    """
    if order.number is None:
        return order.company.paper
    paper: str = order.heading.get("paper", Paper.LETTER)
    return paper


def order_value(order: PurchaseOrder, *, lines: Iterable[OrderLine], houses: Iterable[str]) -> Order:
    """Return the order as its supplier gets it: by the heading it was issued with, a draft by today's.

    Raises BadValue for a text that no form of the order can carry.
    """
    heading = order.heading or heading_of(order, houses)
    return Order(
        number=order.number or "",
        issued=order.issued_at.astimezone(ZoneInfo(heading["time_zone"])) if order.issued_at else None,
        buyer=_party(heading["buyer"]),
        seller=_party(heading["seller"]),
        deliver_to=", ".join(_lines_of(order.deliver_to)),
        deliver_by=order.deliver_by,
        week=order.week,
        houses=tuple(heading["houses"]),
        lines=tuple(_line_value(order, line) for line in lines),
        total=Money(order.total_cents, order.currency),
        freight=Money(order.freight_cents, order.currency),
        before=_before(order.changes) if order.changes else None,
        step=heading.get("step", 0),
    )


def lines_that_came(
    lines: Iterable[Line], rows: Iterable[DeliveryLine], *, before: Mapping[int, int], awaited: bool
) -> tuple[LineCame, ...]:
    """Return each of an order's lines with what a delivery brought of it.

    `rows` come with their order line and lot; `before` are good packs that came earlier, by position.
    """
    came = {row.line.position: row for row in rows}
    return tuple(
        _came(line, came.get(line.position), before=before.get(line.position, 0), awaited=awaited)
        for line in lines
    )


def pack_name(line: OrderLine) -> str:
    """Return what the catalogue calls the line's pack, its key where the catalogue has it no more."""
    material = load_catalogue().materials.get(line.material)
    names = {pack.label.key: pack.label.name for pack in material.packs} if material else {}
    return names.get(line.pack, line.pack)


def inputs_hash(inputs: Mapping[str, Any], rules_version: str) -> str:
    """Return a SHA-256 of what an order's numbers come from, and of the rules' version."""
    return _hash([rules_version, inputs])


def issue_body_hash(order: PurchaseOrder, content: str) -> str:
    """Return a SHA-256 of what a person sends to issue an order: which one, and the content that was seen."""
    return _hash([order.pk, content])


def _before(order: PurchaseOrder) -> Before | None:
    if order.issued_at is None or not order.number:
        return None
    zone = ZoneInfo(order.heading["time_zone"])
    lines = tuple(_line_value(order, line) for line in order.lines.all())
    return Before(order.number, order.issued_at.astimezone(zone).date(), lines)


def _step_of(order: PurchaseOrder) -> int:
    """Return how often the first order was changed with this one: its number says how often before."""
    if order.changes is None or order.changes.number is None:
        return 0
    return step_of(order.changes.number) + 1


def _line_value(order: PurchaseOrder, line: OrderLine) -> Line:
    return Line(
        position=line.position,
        material=line.material,
        description=line.description,
        pack=pack_name(line),
        unit=unit_code(line.pack),
        packs=line.packs,
        price=Money(line.unit_price_cents, order.currency),
        total=Money(line.total_cents, order.currency),
    )


def _came(line: Line, row: DeliveryLine | None, *, before: int, awaited: bool) -> LineCame:
    if row is None:
        return LineCame(line, before=before, awaited=awaited)
    return LineCame(
        line,
        before=before,
        good=row.good,
        damaged=row.damaged,
        wrong=row.wrong,
        number=row.lot.number if row.lot else "",
        last_good=row.lot.last_good if row.lot else None,
        awaited=awaited,
    )


def _party(told: Mapping[str, Any]) -> Party:
    return Party(told["name"], tuple(told["address"]), told["contact"], told["email"])


def _lines_of(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]


def _hash(value: object) -> str:
    return hashlib.sha256(json.dumps(value, sort_keys=True).encode()).hexdigest()
