"""The background work of this app: the order's PDF, and keeping what houses come to."""

from __future__ import annotations

from celery import shared_task

from materials.documents import order_pdf
from materials.selectors.orders import order_of
from materials.services.issuing import PDF_KIND
from materials.services.rollups import keep_roll_ups
from projects import jobs
from projects.models import Company


@jobs.kind(PDF_KIND)
def draw_order(run: jobs.Run) -> jobs.Document:
    """Draw the PDF of the order with the id `order`."""
    order = order_of(run.job.company, run.arguments["order"])
    run.tell(30, "Drawing the order")
    return order_pdf(order)


@shared_task(name="materials.keep_roll_ups")
def keep_all_roll_ups() -> None:
    """Keep the totals of every company's houses that changed since they were kept."""
    for company in Company.objects.all():
        keep_roll_ups(company=company)
