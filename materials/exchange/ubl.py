"""An issued order, its change and its end in the OASIS Universal Business Language 2.1. Pure.

The same order always gives the same bytes. Source: docs.oasis-open.org/ubl/os-UBL-2.1, the schemas
UBL-Order-2.1, UBL-OrderChange-2.1 and UBL-OrderCancellation-2.1.
"""

from __future__ import annotations

from datetime import date, datetime
from xml.etree import ElementTree as Xml

from materials.errors import NotIssued
from materials.exchange.change import Standing, line_changes
from materials.exchange.order import Line, Order, Party
from projects.quantities.money import Money

_NAMES = "urn:oasis:names:specification:ubl:schema:xsd:"
FREIGHT = "FC"
"""Freight charge in the United Nations' code list 7161, from memory."""


def ubl_order(order: Order) -> bytes:
    """Return the order as a UTF-8 document: an Order, or an OrderChange where it changes one before it.

    Raises NotIssued for a draft.
    """
    if order.issued is None:
        raise NotIssued
    root = _root("OrderChange" if order.before else "Order", order.number, order.issued)
    if order.before:
        _basic(root, "SequenceNumberID", str(order.step))
    if order.houses:
        _basic(root, "Note", f"For houses {', '.join(order.houses)}, week of {order.week.isoformat()}.")
    _basic(root, "DocumentCurrencyCode", order.total.currency)
    changes = line_changes(order)
    _basic(root, "LineCountNumeric", str(len(changes)))
    if order.before:
        _reference(root, order.before.number, order.before.issued)
    _parties(root, order)
    _delivery(root, order)
    _totals(root, order)
    for change in changes:
        standing = change.standing if order.before else None
        _line(_aggregate(_aggregate(root, "OrderLine"), "LineItem"), change.line, standing)
    return _written(root)


def ubl_cancellation(order: Order, *, reason: str, at: datetime) -> bytes:
    """Return an OrderCancellation of an issued order; `at` is by the buyer's clock. Raises NotIssued."""
    if order.issued is None:
        raise NotIssued
    root = _root("OrderCancellation", f"{order.number}-C", at)
    _basic(root, "CancellationNote", reason)
    _reference(root, order.number, order.issued.date())
    _parties(root, order)
    return _written(root)


def _root(document: str, number: str, at: datetime) -> Xml.Element:
    # tags are written with their prefixes, as the standard's own examples print them
    names = {
        "xmlns": f"{_NAMES}{document}-2",
        "xmlns:cac": f"{_NAMES}CommonAggregateComponents-2",
        "xmlns:cbc": f"{_NAMES}CommonBasicComponents-2",
    }
    root = Xml.Element(document, names)
    _basic(root, "UBLVersionID", "2.1")
    _basic(root, "ID", number)
    _basic(root, "IssueDate", at.date().isoformat())
    _basic(root, "IssueTime", at.replace(microsecond=0).timetz().isoformat())
    return root


def _written(root: Xml.Element) -> bytes:
    Xml.indent(root)
    document: bytes = Xml.tostring(root, encoding="UTF-8", xml_declaration=True)
    return document


def _reference(root: Xml.Element, number: str, issued: date) -> None:
    reference = _aggregate(root, "OrderReference")
    _basic(reference, "ID", number)
    _basic(reference, "IssueDate", issued.isoformat())


def _parties(root: Xml.Element, order: Order) -> None:
    _party(_aggregate(root, "BuyerCustomerParty"), order.buyer)
    _party(_aggregate(root, "SellerSupplierParty"), order.seller)


def _totals(root: Xml.Element, order: Order) -> None:
    if order.freight.cents:
        charge = _aggregate(root, "AllowanceCharge")
        _basic(charge, "ChargeIndicator", "true")
        _basic(charge, "AllowanceChargeReasonCode", FREIGHT)
        _basic(charge, "AllowanceChargeReason", "Freight")
        _money(charge, "Amount", order.freight)
    total = _aggregate(root, "AnticipatedMonetaryTotal")
    _money(total, "LineExtensionAmount", order.total)
    if order.freight.cents:
        _money(total, "ChargeTotalAmount", order.freight)
    _money(total, "PayableAmount", order.payable)


def _party(parent: Xml.Element, party: Party) -> None:
    element = _aggregate(parent, "Party")
    _basic(_aggregate(element, "PartyName"), "Name", party.name)
    if party.address:
        _address(_aggregate(element, "PostalAddress"), party.address)
    if party.contact or party.email:
        contact = _aggregate(element, "Contact")
        if party.contact:
            _basic(contact, "Name", party.contact)
        if party.email:
            _basic(contact, "ElectronicMail", party.email)


def _delivery(root: Xml.Element, order: Order) -> None:
    if not (order.deliver_to or order.deliver_by):
        return
    delivery = _aggregate(root, "Delivery")
    if order.deliver_to:
        _address(_aggregate(delivery, "DeliveryAddress"), (order.deliver_to,))
    if order.deliver_by:
        _basic(_aggregate(delivery, "RequestedDeliveryPeriod"), "EndDate", order.deliver_by.isoformat())


def _line(item: Xml.Element, line: Line, standing: Standing | None) -> None:
    _basic(item, "ID", str(line.position))
    if standing:
        _basic(item, "LineStatusCode", standing)
    _basic(item, "Quantity", str(line.packs), unitCode=line.unit)
    _money(item, "LineExtensionAmount", line.total)
    price = _aggregate(item, "Price")
    _money(price, "PriceAmount", line.price)
    _basic(price, "BaseQuantity", "1", unitCode=line.unit)
    what = _aggregate(item, "Item")
    _basic(what, "Description", line.pack)
    _basic(what, "Name", line.description)
    _basic(_aggregate(what, "BuyersItemIdentification"), "ID", line.material)


def _address(parent: Xml.Element, lines: tuple[str, ...]) -> None:
    for line in lines:
        _basic(_aggregate(parent, "AddressLine"), "Line", line)


def _money(parent: Xml.Element, name: str, amount: Money) -> None:
    _basic(parent, name, amount.as_text, currencyID=amount.currency)


def _basic(parent: Xml.Element, name: str, text: str, **attributes: str) -> None:
    Xml.SubElement(parent, f"cbc:{name}", attributes).text = text


def _aggregate(parent: Xml.Element, name: str) -> Xml.Element:
    return Xml.SubElement(parent, f"cac:{name}")
