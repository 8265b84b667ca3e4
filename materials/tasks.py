"""The background work of this app: orders and cut lists on paper, mail, and keeping what houses come to."""

from __future__ import annotations

from celery import shared_task
from django.utils import timezone

from materials.documents import order_pdf
from materials.letters import cancellation_letter, order_letter
from materials.models import SentOrder
from materials.papers import cut_list_pdf, labels_pdf
from materials.selectors.cut_pages import cut_page
from materials.selectors.orders import order_of
from materials.services.cutting import LABELS_KIND, LIST_KIND
from materials.services.drafting import DRAFTS_KIND, carry_out
from materials.services.issuing import PDF_KIND
from materials.services.rollups import keep_roll_ups
from materials.services.sending import CANCELLATION, SEND_KIND, note_sent
from projects import jobs, mail
from projects.models import Company


@jobs.kind(PDF_KIND)
def draw_order(run: jobs.Run) -> jobs.Document:
    """Draw the PDF of the order with the id `order`."""
    order = order_of(run.job.company, run.arguments["order"])
    run.tell(30, "Drawing the order")
    return order_pdf(order)


@jobs.kind(SEND_KIND)
def send_order(run: jobs.Run) -> jobs.Document:
    """Send what there is to say `about` the order with the id `order` to the address `to`.

    The message as it was sent is the job's file.

    A worker that dies between sending and writing it down sends again: twice is better than never, and the
    second copy carries the first one's Message-ID.
    """
    order = order_of(run.job.company, run.arguments["order"])
    run.tell(20, "Drawing the order")
    to, about = run.arguments["to"], run.arguments["about"]
    write = cancellation_letter if about == CANCELLATION else order_letter
    letter = write(order, to=to, at=timezone.now())
    if not SentOrder.objects.of(run.job.company).filter(order=order.row, to=to, about=about).exists():
        run.tell(60, "Handing over the message")
        mail.post(letter)
        note_sent(job=run.job, order=order.row, letter=letter)
    return jobs.Document(f"{about}-{order.row.number}.eml", letter.message().as_bytes(), "message/rfc822")


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
