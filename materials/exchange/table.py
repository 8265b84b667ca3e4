"""An order as a table, one row a line: as CSV (RFC 4180) and as a workbook. Pure.

Each row says whose order it is of, so that rows of several orders can be put under each other.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from materials.exchange.order import Order
from projects.exports import inert
from projects.quantities.money import Money

Value = str | int | date | Money | None
COLUMNS = (
    *("order", "issued", "buyer", "supplier", "deliver to", "deliver by"),
    *("line", "material", "description", "pack", "unit code", "packs", "price", "total", "currency"),
)
_WIDEST = 40


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


def csv_order(order: Order) -> bytes:
    """Return the order as UTF-8 with a mark at its beginning, by which spreadsheets know it.

    Days are ISO 8601, amounts have a decimal point; a text that would run as a formula is made inert.
    """
    out = io.StringIO(newline="")
    out.write("\ufeff")
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    writer.writerows([_as_text(value) for value in row] for row in rows_of(order))
    return out.getvalue().encode()


def xlsx_order(order: Order) -> bytes:
    """Return the order as a workbook of one sheet: days as days, amounts as numbers, every text a text."""
    workbook = Workbook()
    sheet = workbook.active
    sheet.title = "Order"
    for number, row in enumerate((COLUMNS, *rows_of(order)), 1):
        for column, value in enumerate(row, 1):
            _fill(sheet.cell(number, column), value)
    for column, cells in enumerate(sheet.iter_cols(), 1):
        cells[0].font = Font(bold=True)
        widest = max(len(str(cell.value or "")) for cell in cells)
        sheet.column_dimensions[get_column_letter(column)].width = min(widest + 2, _WIDEST)
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
        case int():
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
