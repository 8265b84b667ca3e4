"""What openings are planned to cost: by house, by opening, by month. For those who may see costs."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from crews.documents import costs_file, house_costs_file
from crews.selectors import month
from crews.selectors.cost_pages import all_costs, costs_page, house_costs, opening_costs
from projects.access import allowed, member, wants_part
from projects.rights import Action
from projects.views.files import file_answer


@require_safe
@allowed(Action.SEE_COSTS)
def costs(request: HttpRequest) -> HttpResponse:
    """Show each house's cost per opening, by method, and what moved the month's mean."""
    company = member(request).company
    context = {"page": costs_page(company, request.GET.get("page", "1")), "month": month.month_page(company)}
    return render(request, "crews/costs.html", context)


@require_safe
@allowed(Action.SEE_COSTS)
def costs_as_file(request: HttpRequest, form: str) -> HttpResponse:
    """Hand out the cost of every house as a table."""
    return file_answer(costs_file(all_costs(member(request).company), form))


@require_safe
@allowed(Action.SEE_COSTS)
def house_as_file(request: HttpRequest, pk: int, form: str) -> HttpResponse:
    """Hand out the cost of each opening of a house as a table."""
    return file_answer(house_costs_file(house_costs(member(request).company, pk), form))


@require_safe
@allowed(Action.SEE_COSTS)
def house(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what each opening of a house costs, with its parts."""
    found = house_costs(member(request).company, pk)
    context = {"costed": found, "house": found.house, "project": found.house.project}
    template = "crews/house_costs.html"
    return render(request, f"{template}#costs" if wants_part(request) else template, context)


@require_safe
@allowed(Action.SEE_COSTS)
def opening(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what one opening costs, line by line."""
    found, row = opening_costs(member(request).company, pk)
    context = {"costed": found, "opening": row, "house": found.house, "project": found.house.project}
    template = "crews/opening_costs.html"
    return render(request, f"{template}#costs" if wants_part(request) else template, context)


@require_safe
@allowed(Action.SEE_COSTS)
def home_costs(request: HttpRequest) -> HttpResponse:
    """Show the month's cost per opening in short, for the owner's first page."""
    template = "crews/month.html"
    context = {"month": month.month_page(member(request).company)}
    return render(request, f"{template}#month" if wants_part(request) else template, context)


@require_safe
@allowed(Action.SEE_COSTS)
def home_look(request: HttpRequest) -> HttpResponse:
    """Show the houses that need a look, for the owner's first page."""
    template = "crews/look.html"
    context = {"looks": month.houses_to_look_at(member(request).company)}
    return render(request, f"{template}#looks" if wants_part(request) else template, context)
