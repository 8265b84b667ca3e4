"""What every document of the OASIS Universal Business Language 2.1 is put together from. Pure.

Tags are written with their prefixes, as the standard's own examples print them; the same values always give
the same bytes. Source: docs.oasis-open.org/ubl/os-UBL-2.1.
"""

from __future__ import annotations

from datetime import date, datetime
from xml.etree import ElementTree as Xml

from materials.exchange.order import Party
from projects.quantities.money import Money

_NAMES = "urn:oasis:names:specification:ubl:schema:xsd:"


def document_root(document: str, number: str, at: datetime) -> Xml.Element:
    """Return the root of a document with its version, number and moment; `at` is by the buyer's clock."""
    names = {
        "xmlns": f"{_NAMES}{document}-2",
        "xmlns:cac": f"{_NAMES}CommonAggregateComponents-2",
        "xmlns:cbc": f"{_NAMES}CommonBasicComponents-2",
    }
    root = Xml.Element(document, names)
    add_basic(root, "UBLVersionID", "2.1")
    add_basic(root, "ID", number)
    add_basic(root, "IssueDate", at.date().isoformat())
    add_basic(root, "IssueTime", at.replace(microsecond=0).timetz().isoformat())
    return root


def written(root: Xml.Element) -> bytes:
    """Return the finished document as UTF-8, indented."""
    Xml.indent(root)
    document: bytes = Xml.tostring(root, encoding="UTF-8", xml_declaration=True)
    return document


def add_reference(root: Xml.Element, number: str, issued: date) -> None:
    """Name the order that the document is about, with the day of its issue."""
    reference = add_aggregate(root, "OrderReference")
    add_basic(reference, "ID", number)
    add_basic(reference, "IssueDate", issued.isoformat())


def add_party(parent: Xml.Element, party: Party) -> None:
    """Say who it is, where, and whom to ask."""
    element = add_aggregate(parent, "Party")
    add_basic(add_aggregate(element, "PartyName"), "Name", party.name)
    if party.address:
        add_address(add_aggregate(element, "PostalAddress"), party.address)
    if party.contact or party.email:
        contact = add_aggregate(element, "Contact")
        if party.contact:
            add_basic(contact, "Name", party.contact)
        if party.email:
            add_basic(contact, "ElectronicMail", party.email)


def add_address(parent: Xml.Element, lines: tuple[str, ...]) -> None:
    """Write an address line by line."""
    for line in lines:
        add_basic(add_aggregate(parent, "AddressLine"), "Line", line)


def add_money(parent: Xml.Element, name: str, amount: Money) -> None:
    """Write an amount with its currency."""
    add_basic(parent, name, amount.as_text, currencyID=amount.currency)


def add_basic(parent: Xml.Element, name: str, text: str, **attributes: str) -> None:
    """Write a component that holds a value."""
    Xml.SubElement(parent, f"cbc:{name}", attributes).text = text


def add_aggregate(parent: Xml.Element, name: str) -> Xml.Element:
    """Return a new component that holds others."""
    return Xml.SubElement(parent, f"cac:{name}")
