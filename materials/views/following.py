"""What follows an issued order: the supplier's word, its end, a change."""

from __future__ import annotations

from collections.abc import Callable

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

    def write() -> PurchaseOrder:
        return services.acknowledge_order(by=by, order=order, note=form.cleaned_data["note"])

    return _done(request, pk, write, f"{order.supplier.name} has confirmed order {order.number}.")


@require_POST
@allowed(Action.ISSUE_ORDERS)
def cancel(request: HttpRequest, pk: int) -> HttpResponse:
    """Cancel what is still to come of the order; its demand is open again."""
    by = member(request)
    order = row_of(PurchaseOrder, by.company, pk, "supplier")
    form = CancelForm(request.POST)
    if not form.is_valid():
        return order_page(request, pk, cancelling=form, status=422)

    def write() -> PurchaseOrder:
        return services.cancel_order(by=by, order=order, reason=form.cleaned_data["reason"])

    told = f"Order {order.number} is cancelled. Send the cancellation; its demand is open again."
    return _done(request, pk, write, told)


@require_POST
@allowed(Action.ISSUE_ORDERS)
def change(request: HttpRequest, pk: int) -> HttpResponse:
    """Draft the order that takes this one's place."""
    by = member(request)
    order = row_of(PurchaseOrder, by.company, pk)
    return _done(request, pk, lambda: services.draft_change(by=by, order=order))


def _done(request: HttpRequest, pk: int, write: Callable[[], PurchaseOrder], told: str = "") -> HttpResponse:
    """Do it and lead to the order that comes of it, or show on the order's page why it can't be done."""
    try:
        order = write()
    except UserError as error:
        return order_page(request, pk, refusal=words(error), status=error.status)
    if told:
        say(request, told)
    return redirect("order", order.pk)
