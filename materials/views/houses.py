"""A house's materials: what came, what was used, what lies there."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from materials.selectors.houses import house_page
from projects.access import allowed, member
from projects.rights import Action


@require_safe
@allowed(Action.SEE_HOUSES)
def house_stock(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what became of all that came to a house."""
    page = house_page(member(request).company, pk)
    context = {"page": page, "house": page.house, "project": page.house.project}
    return render(request, "materials/house_stock.html", context)
