"""An issued order, its change and its end in the OASIS Universal Business Language 2.1. Pure.

The same order always gives the same bytes. Source: docs.oasis-open.org/ubl/os-UBL-2.1, the schemas
UBL-Order-2.1, UBL-OrderChange-2.1 and UBL-OrderCancellation-2.1.
"""

from __future__ import annotations

from datetime import datetime
from xml.etree import ElementTree as Xml

from materials.errors import NotIssued
from materials.exchange.change import Standing, line_changes
from materials.exchange.elements import (
    add_address,
    add_aggregate,
    add_basic,
    add_money,
    add_party,
    add_reference,
    document_root,
    written,
)
from materials.exchange.order import Line, Order

FREIGHT = "FC"
"""Freight charge in the United Nations' code list 7161, from memory."""


def ubl_order(order: Order) -> bytes:
    """Return the order as a UTF-8 document: an Order, or an OrderChange where it changes one before it.

    Raises NotIssued for a draft.
    """
    if order.issued is None:
        raise NotIssued
    root = document_root("OrderChange" if order.before else "Order", order.number, order.issued)
    if order.before:
        add_basic(root, "SequenceNumberID", str(order.step))
    if order.houses:
        add_basic(root, "Note", f"For houses {', '.join(order.houses)}, week of {order.week.isoformat()}.")
    add_basic(root, "DocumentCurrencyCode", order.total.currency)
    changes = line_changes(order)
    add_basic(root, "LineCountNumeric", str(len(changes)))
    if order.before:
        add_reference(root, order.before.number, order.before.issued)
    _parties(root, order)
    _delivery(root, order)
    _totals(root, order)
    for change in changes:
        standing = change.standing if order.before else None
        _line(add_aggregate(add_aggregate(root, "OrderLine"), "LineItem"), change.line, standing)
    return written(root)


def ubl_cancellation(order: Order, *, reason: str, at: datetime) -> bytes:
    """Return an OrderCancellation of an issued order; `at` is by the buyer's clock. Raises NotIssued."""
    if order.issued is None:
        raise NotIssued
    root = document_root("OrderCancellation", f"{order.number}-C", at)
    add_basic(root, "CancellationNote", reason)
    add_reference(root, order.number, order.issued.date())
    _parties(root, order)
    return written(root)


def _parties(root: Xml.Element, order: Order) -> None:
    add_party(add_aggregate(root, "BuyerCustomerParty"), order.buyer)
    add_party(add_aggregate(root, "SellerSupplierParty"), order.seller)


def _totals(root: Xml.Element, order: Order) -> None:
    if order.freight.cents:
        charge = add_aggregate(root, "AllowanceCharge")
        add_basic(charge, "ChargeIndicator", "true")
        add_basic(charge, "AllowanceChargeReasonCode", FREIGHT)
        add_basic(charge, "AllowanceChargeReason", "Freight")
        add_money(charge, "Amount", order.freight)
    total = add_aggregate(root, "AnticipatedMonetaryTotal")
    add_money(total, "LineExtensionAmount", order.total)
    if order.freight.cents:
        add_money(total, "ChargeTotalAmount", order.freight)
    add_money(total, "PayableAmount", order.payable)


def _delivery(root: Xml.Element, order: Order) -> None:
    if not (order.deliver_to or order.deliver_by):
        return
    delivery = add_aggregate(root, "Delivery")
    if order.deliver_to:
        add_address(add_aggregate(delivery, "DeliveryAddress"), (order.deliver_to,))
    if order.deliver_by:
        add_basic(add_aggregate(delivery, "RequestedDeliveryPeriod"), "EndDate", order.deliver_by.isoformat())


def _line(item: Xml.Element, line: Line, standing: Standing | None) -> None:
    add_basic(item, "ID", str(line.position))
    if standing:
        add_basic(item, "LineStatusCode", standing)
    add_basic(item, "Quantity", str(line.packs), unitCode=line.unit)
    add_money(item, "LineExtensionAmount", line.total)
    price = add_aggregate(item, "Price")
    add_money(price, "PriceAmount", line.price)
    add_basic(price, "BaseQuantity", "1", unitCode=line.unit)
    what = add_aggregate(item, "Item")
    add_basic(what, "Description", line.pack)
    add_basic(what, "Name", line.description)
    add_basic(add_aggregate(what, "BuyersItemIdentification"), "ID", line.material)
