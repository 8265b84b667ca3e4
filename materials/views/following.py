"""What follows an issued order: the supplier's word, its end, a change."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from materials import services
from materials.forms.following import AcknowledgeForm, CancelForm
from materials.models import PurchaseOrder
from materials.views.orders import order_page
from projects.access import allowed, member
from projects.errors import UserError
from projects.messages import words
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of


@require_POST
@allowed(Action.ISSUE_ORDERS)
def acknowledge(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down that the supplier takes the order, and what he said."""
    by = member(request)
    order = row_of(PurchaseOrder, by.company, pk, "supplier")
    form = AcknowledgeForm(request.POST)
    if not form.is_valid():
        return order_page(request, pk, acknowledging=form, status=422)
    try:
        services.acknowledge_order(by=by, order=order, note=form.cleaned_data["note"])
    except UserError as error:
        return order_page(request, pk, refusal=words(error), status=error.status)
    say(request, f"{order.supplier.name} has confirmed order {order.number}.")
    return redirect("order", pk)


@require_POST
@allowed(Action.ISSUE_ORDERS)
def cancel(request: HttpRequest, pk: int) -> HttpResponse:
    """Cancel what is still to come of the order; its demand is open again."""
    by = member(request)
    order = row_of(PurchaseOrder, by.company, pk, "supplier")
    form = CancelForm(request.POST)
    if not form.is_valid():
        return order_page(request, pk, cancelling=form, status=422)
    try:
        services.cancel_order(by=by, order=order, reason=form.cleaned_data["reason"])
    except UserError as error:
        return order_page(request, pk, refusal=words(error), status=error.status)
    say(request, f"Order {order.number} is cancelled. Send the cancellation; its demand is open again.")
    return redirect("order", pk)


@require_POST
@allowed(Action.ISSUE_ORDERS)
def change(request: HttpRequest, pk: int) -> HttpResponse:
    """Draft the order that takes this one's place."""
    by = member(request)
    try:
        draft = services.draft_change(by=by, order=row_of(PurchaseOrder, by.company, pk))
    except UserError as error:
        return order_page(request, pk, refusal=words(error), status=error.status)
    return redirect("order", draft.pk)
