"""The order as a table: what was written is what is read, and nothing that people typed runs."""

from __future__ import annotations

import csv
import io
from datetime import datetime
from decimal import Decimal

import pytest
from openpyxl import load_workbook

from materials.exchange.table import COLUMNS, csv_order, xlsx_order
from projects.exports import inert
from tests.materials.exchange.cast import HOSTILE, ORDER, draft, named
from tests.projects.test_exports import PAYLOADS, cells_of, runs

# what a cell of a table may hold: the others are refused with the order
TYPED = tuple(dict.fromkeys(text for text in (*HOSTILE, *PAYLOADS) if text.isprintable()))
HEAD = ("2026-001", "2026-06-01", "Setters & Sons", "Thistle Supply", "Lot 1, Harrow Lane", "2026-06-08")


def read_csv(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(content.decode("utf-8-sig"), newline="")))


def read_sheet(content: bytes):
    return load_workbook(io.BytesIO(content)).active


def test_csv_brings_back_every_line():
    rows = read_csv(csv_order(ORDER))

    assert [tuple(row.values()) for row in rows] == [
        (
            *HEAD,
            *("1", "membrane-9in", "Flashing membrane 9 in", "roll of 50 ft", "XRO", "2"),
            *("29.00", "58.00", "USD"),
        ),
        (
            *HEAD,
            *("2", "sealant", "Sealant", "cartridge of 10.1 fl oz", "XCQ", "4"),
            *("9.00", "36.00", "USD"),
        ),
    ]
    assert tuple(rows[0]) == COLUMNS
    assert sum(Decimal(row["total"]) for row in rows) == Decimal("94.00")


def test_csv_ends_its_lines_and_doubles_its_quotes_as_the_standard_says():
    # RFC 4180, section 2: lines end in CRLF, a quote within quotes is doubled
    content = csv_order(named('6" Nut, "Co"')).decode("utf-8-sig")

    assert content.count("\r\n") == content.count("\n") == 3
    assert '"6"" Nut, ""Co"""' in content


def test_workbook_brings_back_days_as_days_and_amounts_as_numbers():
    sheet = read_sheet(xlsx_order(ORDER))

    assert [tuple(row) for row in sheet.values] == [
        COLUMNS,
        (
            *("2026-001", datetime(2026, 6, 1), "Setters & Sons", "Thistle Supply"),
            *("Lot 1, Harrow Lane", datetime(2026, 6, 8)),
            *(1, "membrane-9in", "Flashing membrane 9 in", "roll of 50 ft", "XRO", 2, 29, 58, "USD"),
        ),
        (
            *("2026-001", datetime(2026, 6, 1), "Setters & Sons", "Thistle Supply"),
            *("Lot 1, Harrow Lane", datetime(2026, 6, 8)),
            *(2, "sealant", "Sealant", "cartridge of 10.1 fl oz", "XCQ", 4, 9, 36, "USD"),
        ),
    ]


@pytest.mark.parametrize("name", TYPED, ids=ascii)
def test_nothing_typed_runs_in_either_table(name):
    order = named(name)

    text = csv_order(order).decode("utf-8-sig")
    sheet = read_sheet(xlsx_order(order))

    assert [cell for cell in cells_of(text) if runs(cell)] == []
    assert {row["supplier"] for row in read_csv(csv_order(order))} == {inert(name)}
    assert {cell.data_type for row in sheet.iter_rows() for cell in row} <= {"s", "n", "d"}
    assert {row[3] for row in list(sheet.values)[1:]} == {name}


def test_draft_has_neither_number_nor_day():
    (first, _) = read_csv(csv_order(draft()))
    sheet = read_sheet(xlsx_order(draft()))

    assert (first["order"], first["issued"]) == ("", "")
    assert next(iter(list(sheet.values)[1:]))[:2] == (None, None)
