"""An issued order as an Order of the OASIS Universal Business Language 2.1. Pure.

The same order always gives the same bytes. Source: docs.oasis-open.org/ubl/os-UBL-2.1, schema UBL-Order-2.1.
"""

from __future__ import annotations

from xml.etree import ElementTree as Xml

from materials.errors import NotIssued
from materials.exchange.order import Line, Order, Party
from projects.quantities.money import Money

_NAMES = "urn:oasis:names:specification:ubl:schema:xsd:"
# tags are written with their prefixes, as the standard's own examples print them
_NAMESPACES = {
    "xmlns": f"{_NAMES}Order-2",
    "xmlns:cac": f"{_NAMES}CommonAggregateComponents-2",
    "xmlns:cbc": f"{_NAMES}CommonBasicComponents-2",
}


def ubl_order(order: Order) -> bytes:
    """Return the order as a UTF-8 document. Raises NotIssued for a draft."""
    if order.issued is None:
        raise NotIssued
    root = Xml.Element("Order", _NAMESPACES)
    _basic(root, "UBLVersionID", "2.1")
    _basic(root, "ID", order.number)
    _basic(root, "IssueDate", order.issued.date().isoformat())
    _basic(root, "IssueTime", order.issued.replace(microsecond=0).timetz().isoformat())
    if order.houses:
        _basic(root, "Note", f"For houses {', '.join(order.houses)}, week of {order.week.isoformat()}.")
    _basic(root, "DocumentCurrencyCode", order.total.currency)
    _basic(root, "LineCountNumeric", str(len(order.lines)))
    _party(_aggregate(root, "BuyerCustomerParty"), order.buyer)
    _party(_aggregate(root, "SellerSupplierParty"), order.seller)
    _delivery(root, order)
    total = _aggregate(root, "AnticipatedMonetaryTotal")
    _money(total, "LineExtensionAmount", order.total)
    _money(total, "PayableAmount", order.total)
    for line in order.lines:
        _line(_aggregate(_aggregate(root, "OrderLine"), "LineItem"), line)
    Xml.indent(root)
    document: bytes = Xml.tostring(root, encoding="UTF-8", xml_declaration=True)
    return document


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


def _line(item: Xml.Element, line: Line) -> None:
    _basic(item, "ID", str(line.position))
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
