"""Why this number: from the opening to the pack, for a week's need and for an order's line."""

from __future__ import annotations

from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from materials.models import OrderLine
from materials.selectors.why import why_line, why_need
from projects.access import allowed, member
from projects.rights import Action


@require_safe
@allowed(Action.SEE_ORDERS)
def need(request: HttpRequest, day: date, material: str) -> HttpResponse:
    """Show why a week needs so much of a material."""
    return render(
        request, "materials/why_need.html", {"why": why_need(member(request).company, day, material)}
    )


@require_safe
@allowed(Action.SEE_ORDERS)
def line(request: HttpRequest, pk: int, position: int) -> HttpResponse:
    """Show why an order line has its packs."""
    lines = OrderLine.objects.of(member(request).company).select_related("order__supplier", "company")
    row = get_object_or_404(lines, order=pk, position=position)
    return render(request, "materials/why_line.html", {"why": why_line(row)})
