"""By when elevations must be covered: this week's list, a house's part of it, the builder's paper."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from crews.selectors.covering import cover_page, house_cover_page
from crews.services.covering import COVER_KIND, cover_hash, request_cover_list
from materials.selectors.orders import local_today
from materials.services import set_covered
from projects.access import allowed, member, wants_part
from projects.jobs import latest
from projects.models import Elevation, Project
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of


@require_safe
@allowed(Action.SEE_PLAN)
def cover_list(request: HttpRequest) -> HttpResponse:
    """Show this week's list, and the papers that were asked for."""
    company = member(request).company
    page = cover_page(company)
    jobs = [
        latest(company=company, kind=COVER_KIND, input_hash=cover_hash(project, page))
        for project in page.projects
    ]
    context = {"page": page, "papers": list(zip(page.projects, jobs, strict=True))}
    return render(request, "crews/cover_list.html", context)


@require_safe
@allowed(Action.SEE_PLAN)
def of_house(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a house's part of the list."""
    house, page = house_cover_page(member(request).company, pk)
    template = "crews/house_cover.html"
    context = {"house": house, "project": house.project, "page": page}
    return render(request, f"{template}#rows" if wants_part(request) else template, context)


@require_POST
@allowed(Action.SEE_PLAN)
def paper(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask for a project's list on paper; the page shows how far it is."""
    by = member(request)
    request_cover_list(by=by, project=row_of(Project, by.company, pk))
    return redirect("cover-list")


@require_POST
@allowed(Action.EDIT_PLAN)
def cover(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down that an elevation is covered since today; the next page offers to take it back."""
    by = member(request)
    face = row_of(Elevation, by.company, pk, "house")
    set_covered(by=by, elevation=face, on=local_today(by.company))
    told = f"{face.house.code} {face.name} is covered and off the list."
    say(request, told, undo=reverse("face-uncover", args=[pk]))
    return redirect("cover-list")


@require_POST
@allowed(Action.EDIT_PLAN)
def uncover(request: HttpRequest, pk: int) -> HttpResponse:
    """Take back that an elevation is covered."""
    by = member(request)
    face = row_of(Elevation, by.company, pk, "house")
    set_covered(by=by, elevation=face, on=None)
    say(request, f"{face.house.code} {face.name} lies open again.")
    return redirect("cover-list")
