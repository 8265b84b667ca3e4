"""The order as the supplier gets it."""

from __future__ import annotations

from materials.selectors.orders import OrderShown
from projects.jobs import Document
from projects.pdf import render_pdf


def order_pdf(order: OrderShown) -> Document:
    """Return the order's PDF. Raises PdfUnavailable."""
    row = order.row
    content = render_pdf("documents/order.html", {"order": order, "company": row.company})
    name = f"order-{row.number}.pdf" if row.number else f"draft-{row.supplier.code.lower()}.pdf"
    return Document(name=name, content_type="application/pdf", content=content)
