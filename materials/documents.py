"""The order as the supplier gets it."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from django.utils import timezone

from materials.selectors.orders import OrderShown
from projects.jobs import Document
from projects.pdf import render_pdf


def order_pdf(order: OrderShown) -> Document:
    """Return the order's PDF, its days as the company's calendar has them. Raises PdfUnavailable."""
    row = order.row
    with timezone.override(ZoneInfo(row.company.time_zone)):
        content = render_pdf("documents/order.html", {"order": order, "company": row.company})
    name = f"order-{row.number}.pdf" if row.number else f"draft-{row.supplier.code.lower()}.pdf"
    return Document(name=name, content_type="application/pdf", content=content)
