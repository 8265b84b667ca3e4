"""The background work of this app: orders and cut lists on paper, and keeping what houses come to."""

from __future__ import annotations

from celery import shared_task

from materials.documents import order_pdf
from materials.papers import cut_list_pdf, labels_pdf
from materials.selectors.cut_pages import cut_page
from materials.selectors.orders import order_of
from materials.services.cutting import LABELS_KIND, LIST_KIND
from materials.services.drafting import DRAFTS_KIND, carry_out
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


@jobs.kind(LIST_KIND)
def draw_cut_list(run: jobs.Run) -> jobs.Document:
    """Draw the cut list with the id `cut_list`."""
    page = cut_page(run.job.company, run.arguments["cut_list"])
    run.tell(30, "Drawing the cut list")
    return cut_list_pdf(page)


@jobs.kind(LABELS_KIND)
def draw_labels(run: jobs.Run) -> jobs.Document:
    """Draw the labels of the cut list with the id `cut_list`."""
    page = cut_page(run.job.company, run.arguments["cut_list"])
    run.tell(30, "Drawing the labels")
    return labels_pdf(page)


@jobs.kind(DRAFTS_KIND)
def make_drafts(run: jobs.Run) -> dict[str, list[str]]:
    """Make the drafts of the week `week`, all or none."""
    return carry_out(run)


@shared_task(name="materials.keep_roll_ups")
def keep_all_roll_ups() -> None:
    """Keep the totals of every company's houses that changed since they were kept."""
    for company in Company.objects.all():
        keep_roll_ups(company=company)
