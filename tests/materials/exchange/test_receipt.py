"""What came, as UBL 2.1: valid by the published schema, and what a person wrote by hand from it.

Of the order in cast.py, 2 rolls and 4 cartridges, came 3 good rolls, and of the cartridges 1 good, 1 damaged
and 1 wrong one.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

import pytest
from lxml import etree

from materials.errors import NotIssued
from materials.exchange.receipt import LineCame, Receipt, ubl_receipt
from projects.errors import BadValue
from tests.materials.exchange.cast import EASTERN, HOSTILE, LINES, ORDER, REFUSED, draft, named
from tests.materials.exchange.test_change import problems_of, texts

ROLLS = LineCame(LINES[0], good=3, number="R-7")
TUBES = LineCame(LINES[1], good=1, damaged=1, wrong=1, number="S-131", last_good=date(2027, 3, 1))
RECEIPT = Receipt(
    order=ORDER,
    place=1,
    at=datetime(2026, 6, 8, 7, 5, tzinfo=EASTERN),
    lines=(ROLLS, TUBES),
    note="One carton was wet.",
)
# By hand from the schema: 3 - 2 = 1 roll too many; of 4 cartridges 3 came, 2 of them are not accepted, and
# 4 - 1 - 2 = 1 is short.
EXPECTED = """<?xml version='1.0' encoding='UTF-8'?>
<ReceiptAdvice xmlns="urn:oasis:names:specification:ubl:schema:xsd:ReceiptAdvice-2" \
xmlns:cac="urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2" \
xmlns:cbc="urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2">
  <cbc:UBLVersionID>2.1</cbc:UBLVersionID>
  <cbc:ID>2026-001-R1</cbc:ID>
  <cbc:IssueDate>2026-06-08</cbc:IssueDate>
  <cbc:IssueTime>07:05:00-04:00</cbc:IssueTime>
  <cbc:Note>One carton was wet.</cbc:Note>
  <cbc:LineCountNumeric>2</cbc:LineCountNumeric>
  <cac:OrderReference>
    <cbc:ID>2026-001</cbc:ID>
    <cbc:IssueDate>2026-06-01</cbc:IssueDate>
  </cac:OrderReference>
  <cac:DeliveryCustomerParty>
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
  </cac:DeliveryCustomerParty>
  <cac:DespatchSupplierParty>
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
  </cac:DespatchSupplierParty>
  <cac:ReceiptLine>
    <cbc:ID>1</cbc:ID>
    <cbc:ReceivedQuantity unitCode="XRO">3</cbc:ReceivedQuantity>
    <cbc:OversupplyQuantity unitCode="XRO">1</cbc:OversupplyQuantity>
    <cbc:ReceivedDate>2026-06-08</cbc:ReceivedDate>
    <cac:OrderLineReference>
      <cbc:LineID>1</cbc:LineID>
    </cac:OrderLineReference>
    <cac:Item>
      <cbc:Description>roll of 50 ft</cbc:Description>
      <cbc:Name>Flashing membrane 9 in</cbc:Name>
      <cac:BuyersItemIdentification>
        <cbc:ID>membrane-9in</cbc:ID>
      </cac:BuyersItemIdentification>
      <cac:ItemInstance>
        <cac:LotIdentification>
          <cbc:LotNumberID>R-7</cbc:LotNumberID>
        </cac:LotIdentification>
      </cac:ItemInstance>
    </cac:Item>
  </cac:ReceiptLine>
  <cac:ReceiptLine>
    <cbc:ID>2</cbc:ID>
    <cbc:ReceivedQuantity unitCode="XCQ">3</cbc:ReceivedQuantity>
    <cbc:ShortQuantity unitCode="XCQ">1</cbc:ShortQuantity>
    <cbc:RejectedQuantity unitCode="XCQ">2</cbc:RejectedQuantity>
    <cbc:RejectReason>1 damaged</cbc:RejectReason>
    <cbc:RejectReason>1 wrong</cbc:RejectReason>
    <cbc:ReceivedDate>2026-06-08</cbc:ReceivedDate>
    <cac:OrderLineReference>
      <cbc:LineID>2</cbc:LineID>
    </cac:OrderLineReference>
    <cac:Item>
      <cbc:Description>cartridge of 10.1 fl oz</cbc:Description>
      <cbc:Name>Sealant</cbc:Name>
      <cac:BuyersItemIdentification>
        <cbc:ID>sealant</cbc:ID>
      </cac:BuyersItemIdentification>
      <cac:ItemInstance>
        <cbc:BestBeforeDate>2027-03-01</cbc:BestBeforeDate>
        <cac:LotIdentification>
          <cbc:LotNumberID>S-131</cbc:LotNumberID>
        </cac:LotIdentification>
      </cac:ItemInstance>
    </cac:Item>
  </cac:ReceiptLine>
</ReceiptAdvice>"""


def test_receipt_is_what_was_written_by_hand():
    assert ubl_receipt(RECEIPT).decode() == EXPECTED


def test_receipt_is_valid_by_the_published_schema():
    assert problems_of(ubl_receipt(RECEIPT), "ReceiptAdvice") == []


@pytest.mark.parametrize("lost", ["<cbc:ID>2026-001-R1</cbc:ID>", "<cbc:LineID>1</cbc:LineID>"])
def test_negative_control_the_schema_misses_what_must_be_there(lost):
    assert problems_of(EXPECTED.replace(lost, "", 1).encode(), "ReceiptAdvice") != []


def test_a_line_of_which_nothing_came_is_short_without_a_day():
    document = ubl_receipt(replace(RECEIPT, lines=(LineCame(LINES[0]), TUBES)))

    assert problems_of(document, "ReceiptAdvice") == []
    assert texts(document, "ReceivedQuantity") == ["0", "3"]
    assert texts(document, "ShortQuantity") == ["2", "1"]
    assert texts(document, "ReceivedDate") == ["2026-06-08"]


def test_a_line_that_came_before_is_not_told_again():
    document = ubl_receipt(replace(RECEIPT, lines=(LineCame(LINES[0], before=2), TUBES)))

    assert texts(document, "LineID") == ["2"]
    assert texts(document, "LineCountNumeric") == ["1"]


@pytest.mark.parametrize(
    ("came", "received", "rejected", "short", "over"),
    [
        # of 4 cartridges; rejected and short together are what is still to come
        (LineCame(LINES[1], good=4), 4, 0, 0, 0),
        (LineCame(LINES[1], good=3, damaged=1), 4, 1, 0, 0),
        (LineCame(LINES[1], before=2, good=1), 1, 0, 1, 0),
        (LineCame(LINES[1], before=3, good=3), 3, 0, 0, 2),
        (LineCame(LINES[1], before=6, good=1), 1, 0, 0, 1),
        (LineCame(LINES[1], good=1, awaited=False), 1, 0, 0, 0),
    ],
)
def test_short_rejected_and_over_go_by_what_was_ordered(came, received, rejected, short, over):
    assert (came.received, came.rejected, came.short, came.over) == (received, rejected, short, over)


@pytest.mark.parametrize("name", HOSTILE, ids=ascii)
def test_hostile_text_comes_over_as_it_is(name):
    lines = (replace(ROLLS, line=named(name).lines[0], number=name), TUBES)

    document = ubl_receipt(replace(RECEIPT, order=named(name), lines=lines, note=name))

    assert problems_of(document, "ReceiptAdvice") == []
    assert texts(document, "Note") == [name]
    assert texts(document, "LotNumberID") == [name, "S-131"]
    assert etree.fromstring(document).xpath("string(//*[local-name()='Item']/*[local-name()='Name'])") == name


@pytest.mark.parametrize("text", REFUSED, ids=ascii)
def test_control_characters_are_refused_in_words(text):
    with pytest.raises(BadValue, match="a line break or a control character"):
        replace(RECEIPT, note=text)
    with pytest.raises(BadValue, match="a line break or a control character"):
        replace(ROLLS, number=text)


def test_a_receipt_is_of_an_issued_order_and_of_something():
    with pytest.raises(NotIssued):
        replace(RECEIPT, order=draft())
    with pytest.raises(BadValue, match=r"Nothing came with receipt 2026-001-R1"):
        replace(RECEIPT, lines=(LineCame(LINES[0]),))
    with pytest.raises(BadValue, match="below 0"):
        replace(ROLLS, damaged=-1)
