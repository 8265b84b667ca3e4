"""The background work of this app: the order's PDF."""

from __future__ import annotations

from materials.documents import order_pdf
from materials.selectors.orders import order_of
from materials.services.issuing import PDF_KIND
from projects import jobs


@jobs.kind(PDF_KIND)
def draw_order(run: jobs.Run) -> jobs.Document:
    """Draw the PDF of the order with the id `order`."""
    order = order_of(run.job.company, run.arguments["order"])
    run.tell(30, "Drawing the order")
    return order_pdf(order)
