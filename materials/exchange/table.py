"""Tables that leave the house, as CSV (RFC 4180) and as a workbook, and an order as one. Pure.

Each row of an order says whose it is, so that rows of several orders can be put under each other.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import floor

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from materials.exchange.order import Order
from projects.exports import inert
from projects.quantities.length import Length
from projects.quantities.money import Money

Value = str | int | date | Decimal | Money | None
COLUMNS = (
    *("order", "issued", "buyer", "supplier", "deliver to", "deliver by"),
    *("line", "material", "description", "pack", "unit code", "packs", "price", "total", "currency"),
)
_WIDEST = 40
PARTS_OF_INCH = 16
"""Lengths are rounded as pages round them, half up to 1/16 in."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under named columns; `title` names the workbook's sheet, at most 31 letters."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]


def rows_of(order: Order) -> Iterator[tuple[Value, ...]]:
    """Yield the values of each line in the order of COLUMNS, freight last.

    A draft has neither number nor day of issue.
    """
    issued = order.issued.date() if order.issued else None
    head = (order.number, issued, order.buyer.name, order.seller.name, order.deliver_to, order.deliver_by)
    for line in order.lines:
        what = (line.position, line.material, line.description, line.pack, line.unit, line.packs)
        yield (*head, *what, line.price, line.total, line.total.currency)
    if order.freight.cents:
        freight = (len(order.lines) + 1, "freight", "Freight", "per order", "", 1)
        yield (*head, *freight, order.freight, order.freight, order.freight.currency)


def order_table(order: Order) -> Table:
    """Return the order as a table."""
    return Table("Order", COLUMNS, tuple(rows_of(order)))


def in_inches(length: Length) -> Decimal:
    """Return a length as a table has it: inches, half up to the sixteenth."""
    return Decimal(half_up_parts(length.exact_inches, PARTS_OF_INCH)) / PARTS_OF_INCH


def half_up_parts(amount: Fraction, parts: int) -> int:
    """Return how many parts of one, half up, an amount has."""
    return floor(amount * parts + Fraction(1, 2))


def csv_order(order: Order) -> bytes:
    """Return the order as CSV."""
    return csv_of(order_table(order))


def xlsx_order(order: Order) -> bytes:
    """Return the order as a workbook."""
    return xlsx_of(order_table(order))


def csv_of(table: Table) -> bytes:
    """Return the table as UTF-8 with a mark at its beginning, by which spreadsheets know it.

    Days are ISO 8601, numbers have a decimal point; a text that would run as a formula is made inert.
    """
    out = io.StringIO(newline="")
    out.write("\ufeff")
    writer = csv.writer(out)
    writer.writerow(table.columns)
    writer.writerows([_as_text(value) for value in row] for row in table.rows)
    return out.getvalue().encode()


def xlsx_of(table: Table) -> bytes:
    """Return the table as a workbook of one sheet: days as days, numbers as numbers, every text a text."""
    workbook = Workbook()
    sheet = workbook.active
    sheet.title = table.title
    widest = [0] * len(table.columns)
    for number, row in enumerate((table.columns, *table.rows), 1):
        for column, value in enumerate(row, 1):
            _fill(sheet.cell(number, column), value)
            widest[column - 1] = max(widest[column - 1], len(_as_text(value)))
    for column, width in enumerate(widest, 1):
        sheet.cell(1, column).font = Font(bold=True)
        sheet.column_dimensions[get_column_letter(column)].width = min(width + 2, _WIDEST)
    sheet.freeze_panes = "A2"
    out = io.BytesIO()
    workbook.save(out)
    return out.getvalue()


def _as_text(value: Value) -> str:
    match value:
        case None:
            return ""
        case Money():
            return value.as_text
        case date():
            return value.isoformat()
        case int() | Decimal():
            return str(value)
    return inert(value)


def _fill(cell: Cell, value: Value) -> None:
    match value:
        case None | "":
            return
        case str():
            cell.value = value
            cell.data_type = "s"  # a leading = has made it a formula
        case Money():
            cell.value = Decimal(value.as_text)
            cell.number_format = "0.00"
        case date():
            cell.value = value
            cell.number_format = "yyyy-mm-dd"
        case _:
            cell.value = value
