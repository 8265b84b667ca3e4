"""How an order, and what came of it, leave the house: as a file to take along."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from materials.documents import order_file, receipt_file
from materials.selectors.deliveries import delivery_of
from materials.selectors.orders import order_of
from projects.access import allowed, member
from projects.rights import Action
from projects.views.files import file_answer


@require_safe
@allowed(Action.SEE_ORDERS)
def file(request: HttpRequest, pk: int, form: str) -> HttpResponse:
    """Hand out the order as a table, or as a document for the supplier's own programs."""
    return file_answer(order_file(order_of(member(request).company, pk), form))


@require_safe
@allowed(Action.SEE_ORDERS)
def receipt(request: HttpRequest, pk: int) -> HttpResponse:
    """Hand out what one delivery brought as a document for the supplier's own programs."""
    return file_answer(receipt_file(delivery_of(member(request).company, pk)))
