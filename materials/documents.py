"""The order as the supplier gets it: as a PDF, as tables, and as a document for his own programs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from types import MappingProxyType

from django.template.loader import render_to_string

from materials.convert import order_value
from materials.exchange.change import line_changes
from materials.exchange.order import Order
from materials.exchange.table import csv_order, xlsx_order
from materials.exchange.ubl import ubl_cancellation, ubl_order
from materials.selectors.orders import OrderShown
from projects.jobs import Document
from projects.pdf import pdf_of

_XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
FORMS: Mapping[str, tuple[str, Callable[[Order], bytes]]] = MappingProxyType(
    {
        "csv": ("text/csv; charset=utf-8", csv_order),
        "xlsx": (_XLSX, xlsx_order),
        "xml": ("application/xml", ubl_order),
    }
)
"""What an order can be written as at once, by the end of the file's name; a PDF takes a job."""


def order_pdf(order: OrderShown) -> Document:
    """Return the order's PDF, the same bytes at every time of asking. Raises PdfUnavailable."""
    return Document(_name(order, "pdf"), pdf_of(order_sheet(order)))


def order_sheet(order: OrderShown) -> str:
    """Return the HTML that the PDF is drawn from, its days as the company's calendar has them."""
    value = value_of(order)
    changes = line_changes(value) if value.before else ()
    return render_to_string("documents/order.html", {"order": value, "changes": changes})


def order_file(order: OrderShown, form: str) -> Document:
    """Return the order in one of FORMS. Raises NotIssued where the form is none for a draft."""
    content_type, write = FORMS[form]
    return Document(_name(order, form), write(value_of(order)), content_type)


def order_cancellation(order: OrderShown, *, reason: str, at: datetime) -> Document:
    """Return the UBL that takes an issued order back; `at` is the moment it was cancelled."""
    value = value_of(order)
    moment = at.astimezone(value.issued.tzinfo if value.issued else None)
    written = ubl_cancellation(value, reason=reason, at=moment)
    return Document(f"cancellation-{value.number}.xml", written, FORMS["xml"][0])


def value_of(order: OrderShown) -> Order:
    """Return the order as its supplier gets it."""
    return order_value(order.row, lines=order.row.lines.all(), houses=order.houses)


def _name(order: OrderShown, form: str) -> str:
    row = order.row
    return f"order-{row.number}.{form}" if row.number else f"draft-{row.supplier.code.lower()}.{form}"
