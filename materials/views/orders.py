"""A week's needs and its orders: made, issued once, drawn as a PDF, compared with what changed."""

from __future__ import annotations

import secrets
from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from materials import services
from materials.convert import content_hash_of
from materials.errors import AlreadyIssued
from materials.forms.following import AcknowledgeForm, CancelForm
from materials.models import PurchaseOrder
from materials.ordering.states import CHANGED
from materials.selectors import orders as reading
from materials.selectors import pages
from materials.selectors.changes import changes_shown
from materials.selectors.deliveries import deliveries_of, differences_of, lines_to_come
from materials.selectors.demand import monday_of
from materials.selectors.growth import growth_of
from materials.selectors.history import history_of
from materials.services import drafting
from materials.services.issuing import PDF_KIND, pdf_hash, request_pdf
from materials.services.sending import SEND_KIND, message_of, send_hash
from projects.access import allowed, member, wants_part
from projects.errors import UserError
from projects.jobs import latest
from projects.messages import words
from projects.models import Job, Project
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of


@require_safe
@allowed(Action.SEE_ORDERS)
def orders(request: HttpRequest) -> HttpResponse:
    """Show next week first, then all orders."""
    company = member(request).company
    context = {"next_week": pages.next_week(company), "orders": reading.orders_of(company)}
    return render(request, "materials/orders.html", context)


@require_safe
@allowed(Action.SEE_ORDERS)
def home_orders(request: HttpRequest) -> HttpResponse:
    """Show next week's needs in short, for the office's first page."""
    company = member(request).company
    page = pages.week_page(company, pages.next_week(company))
    template = "materials/next_week.html"
    return render(request, f"{template}#short" if wants_part(request) else template, {"page": page})


@require_safe
@allowed(Action.SEE_ORDERS)
def project_orders(request: HttpRequest, pk: int) -> HttpResponse:
    """Show the orders that cover openings of a project."""
    project = row_of(Project, member(request).company, pk)
    context = {"project": project, "orders": reading.orders_of(project.company, project=project.pk)}
    template = "materials/project_orders.html"
    return render(request, f"{template}#rows" if wants_part(request) else template, context)


@require_safe
@allowed(Action.SEE_ORDERS)
def week(request: HttpRequest, day: date) -> HttpResponse:
    """Show what a week needs, what is short, and its orders."""
    if day != monday_of(day):
        return redirect("order-week", monday_of(day))
    return _week(request, day)


@require_POST
@allowed(Action.ISSUE_ORDERS)
def make_drafts(request: HttpRequest, day: date) -> HttpResponse:
    """Make a draft per supplier for what the week needs and nothing covers."""
    by = member(request)
    key = request.POST.get("key", "")[:32] or secrets.token_hex(16)
    if drafting.request_drafts(by=by, week=day, key=key) is None:
        try:
            drafts = services.make_drafts(by=by, week=day)
        except UserError as error:
            return _week(request, day, refusal=words(error), status=error.status)
        for sentence in drafting.words_of(by.company, drafts):
            say(request, sentence)
    return redirect("order-week", monday_of(day))


@require_safe
@allowed(Action.SEE_ORDERS)
def order(request: HttpRequest, pk: int) -> HttpResponse:
    """Show an order: a draft to issue, or an issued one with its PDF and what changed since."""
    return order_page(request, pk)


@require_POST
@allowed(Action.ISSUE_ORDERS)
def issue(request: HttpRequest, pk: int) -> HttpResponse:
    """Issue a draft; sent twice it answers twice with the one order."""
    by = member(request)
    row = row_of(PurchaseOrder, by.company, pk, "supplier")
    key, seen = request.POST.get("key", "")[:64], request.POST.get("seen", "")[:64]
    try:
        issued = services.issue_order(by=by, order=row, key=key or secrets.token_hex(16), seen=seen)
    except UserError as error:
        first = isinstance(error, AlreadyIssued)
        return order_page(request, pk, refusal=words(error), status=error.status, was_issued=first)
    say(request, f"Order {issued.number} to {row.supplier.name} is issued.")
    return redirect("order", issued.pk)


@require_POST
@allowed(Action.ISSUE_ORDERS)
def discard(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a draft away; its demand is open again."""
    by = member(request)
    row = row_of(PurchaseOrder, by.company, pk, "supplier")
    services.discard_draft(by=by, order=row)
    again = ("order-change", row.changes_id) if row.changes_id else ("order-week-drafts", row.week)
    # drafts are made from what the houses need: made again, they are what was discarded
    undo = reverse(again[0], args=[again[1]])
    say(request, f"The draft to {row.supplier.name} is discarded; its demand is open again.", undo=undo)
    return redirect("order-week", row.week)


@require_POST
@allowed(Action.SEE_ORDERS)
def pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask for the order's PDF; the page shows how far it is."""
    by = member(request)
    request_pdf(by=by, order=row_of(PurchaseOrder, by.company, pk))
    return redirect("order", pk)


@require_POST
@allowed(Action.ISSUE_ORDERS)
def send(request: HttpRequest, pk: int) -> HttpResponse:
    """Send an issued order to its supplier; pressed twice it is sent once."""
    by = member(request)
    try:
        services.send_order(by=by, order=row_of(PurchaseOrder, by.company, pk, "supplier"))
    except UserError as error:
        return order_page(request, pk, refusal=words(error), status=error.status)
    return redirect("order", pk)


@require_POST
@allowed(Action.ISSUE_ORDERS)
def difference(request: HttpRequest, pk: int) -> HttpResponse:
    """Make drafts for what the order's houses need beyond it."""
    by = member(request)
    row = row_of(PurchaseOrder, by.company, pk)
    drafts = services.order_difference(by=by, order=row)
    made = len(drafts.orders)
    told_made = (
        f"{made} draft{'s' if made != 1 else ''} for the difference." if made else "The packs suffice."
    )
    say(request, told_made)
    return redirect("order-week", row.week)


def _week(request: HttpRequest, day: date, *, refusal: str = "", status: int = 200) -> HttpResponse:
    company = member(request).company
    page = pages.week_page(company, day)
    context = {
        "page": page,
        "drafts": [
            {
                "order": draft,
                "key": secrets.token_hex(16),
                "seen": content_hash_of(draft.row, draft.row.lines.all()),
            }
            for draft in page.drafts
        ],
        "job": drafting.drafts_job(company, day),
        "key": secrets.token_hex(16),
        "refusal": refusal,
    }
    return render(request, "materials/week.html", context, status=status)


def order_page(
    request: HttpRequest,
    pk: int,
    *,
    refusal: str = "",
    status: int = 200,
    was_issued: bool = False,
    acknowledging: AcknowledgeForm | None = None,
    cancelling: CancelForm | None = None,
) -> HttpResponse:
    """Return an order's page, with what a person filled in and why it was refused.

    `was_issued`: somebody else was first, and the refusal leads to what he issued.
    """
    company = member(request).company
    shown = reading.order_of(company, pk)
    growth = growth_of(shown.row)
    deliveries = deliveries_of(shown.row)
    context = {
        "order": shown,
        "changes": changes_shown(shown),
        "changed_by": None if shown.is_draft else reading.changed_by(shown.row),
        "growth": growth,
        "lines_to_come": lines_to_come(shown.row, deliveries),
        "deliveries": deliveries,
        "price_differences": differences_of(shown.row, deliveries),
        "differences": () if shown.is_ended else pages.differences_shown(growth),
        "key": secrets.token_hex(16),
        "seen": content_hash_of(shown.row, shown.row.lines.all()),
        "job": latest(company=company, kind=PDF_KIND, input_hash=pdf_hash(shown.row)),
        "sending": _sending(shown),
        "history": () if shown.is_draft else history_of(shown.row),
        "acknowledging": acknowledging or AcknowledgeForm(),
        "cancelling": cancelling or CancelForm(),
        "refusal": refusal,
        "was_issued": was_issued,
    }
    return render(request, "materials/order.html", context, status=status)


def _sending(order: reading.OrderShown) -> Job | None:
    """Return the job that sends the order, or its cancellation, to the address that its supplier has now."""
    row = order.row
    if row.number is None or not row.supplier.email or order.state == CHANGED:
        return None
    made = send_hash(row, row.supplier.email, message_of(row))
    return latest(company=row.company, kind=SEND_KIND, input_hash=made)
