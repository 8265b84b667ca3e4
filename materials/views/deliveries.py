"""Receiving a delivery, on the phone beside the truck."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from materials import services
from materials.errors import NotIssued
from materials.forms.stock import ReceiveForm
from materials.models import Delivery, PurchaseOrder
from materials.selectors.deliveries import differences_of, lines_to_come, over_in
from materials.views.stock import FORM, new_key
from projects.access import allowed, member
from projects.notices import say
from projects.rights import Action, may
from projects.selectors import row_of
from projects.views.editing import Editing


@require_http_methods(FORM)
@allowed(Action.RECEIVE_DELIVERIES)
def receive(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down what came of an order, whole or in part."""
    by = member(request)
    order = row_of(PurchaseOrder, by.company, pk, "supplier")
    if order.number is None:
        raise NotIssued
    lines = lines_to_come(order)

    def save(form: ReceiveForm) -> HttpResponse:
        delivery = services.receive_delivery(
            by=by,
            order=order,
            came=form.came(),
            key=form.cleaned_data["key"],
            note=form.cleaned_data["note"],
        )
        _tell(request, delivery)
        return redirect("order", order.pk) if may(by, Action.SEE_ORDERS) else redirect("stock")

    context = {"order": order, "lines": lines}
    form = ReceiveForm.of(
        [each.row for each in lines], with_prices=may(by, Action.SEE_PRICES), currency=order.currency
    )
    return Editing(request, "materials/receive.html", form, save, new_key(), context).answer()


def _tell(request: HttpRequest, delivery: Delivery) -> None:
    say(request, f"The delivery of order {delivery.order.number} is received.")
    if any(line.price_cents is not None for line in delivery.lines.all()) and differences_of(delivery.order):
        say(request, "A price differs from the order: its page says by how much.")
    for name, packs in over_in(delivery):
        say(request, f"{packs} more than ordered came of {name}. Keep them, or send them back.")
