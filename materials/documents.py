"""The order as the supplier gets it."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from django.template.loader import render_to_string
from django.utils import timezone

from materials.selectors.orders import OrderShown
from projects.jobs import Document
from projects.pdf import pdf_of


def order_pdf(order: OrderShown) -> Document:
    """Return the order's PDF. Raises PdfUnavailable."""
    row = order.row
    name = f"order-{row.number}.pdf" if row.number else f"draft-{row.supplier.code.lower()}.pdf"
    return Document(name=name, content_type="application/pdf", content=pdf_of(order_sheet(order)))


def order_sheet(order: OrderShown) -> str:
    """Return the HTML that the PDF is drawn from, its days as the company's calendar has them."""
    company = order.row.company
    with timezone.override(ZoneInfo(company.time_zone)):
        return render_to_string("documents/order.html", {"order": order, "company": company})
