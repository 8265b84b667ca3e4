"""A house unfolded, one of its elevations, and its copy."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from openings import selectors, services
from openings.forms.houses import CopyForm, ElevationForm
from projects import services as project_services
from projects.access import allowed, member
from projects.models import House
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing


@require_safe
@allowed(Action.SEE_HOUSES)
def house(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a house: its elevations drawn to one scale, then every opening in a list."""
    page = selectors.house_page(member(request).company, pk)
    context = {"page": page, "house": page.house, "project": page.house.project}
    return render(request, "openings/house.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PROJECTS)
def copy(request: HttpRequest, pk: int) -> HttpResponse:
    """Set up another house with the same elevations and openings."""
    by = member(request)
    row = row_of(House, by.company, pk, "project")

    def save(form: CopyForm) -> HttpResponse:
        made = services.copy_house(
            by=by, house=row, code=form.cleaned_data["code"], name=form.cleaned_data["name"]
        )
        say(request, f"House {made.code} is set up with the openings of {row.code}.")
        return redirect("house", made.pk)

    context = {"house": row, "project": row.project}
    return Editing(request, "openings/house_copy.html", CopyForm, save, context=context).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_ELEVATIONS)
def elevation(request: HttpRequest, pk: int) -> HttpResponse:
    """Show an elevation; set how it is reached and what is ready for the crew."""
    by = member(request)
    row, drawing = selectors.elevation_page(by.company, pk)

    def save(form: ElevationForm) -> HttpResponse:
        cleaned = form.cleaned_data
        saved = project_services.edit_elevation(
            by=by,
            elevation=row,
            version=form.seen_version,
            name=cleaned["name"],
            access=cleaned["access"],
        )
        project_services.tick_readiness(by=by, elevation=saved, ready=form.ready)
        say(request, f"Elevation {saved.name} is saved.")
        return redirect("house", saved.house_id)

    initial = {"name": row.name, "access": row.access, "version": row.version}
    initial |= {tick: getattr(row, tick) for tick in project_services.READINESS}
    context = {
        "elevation": row,
        "house": row.house,
        "project": row.house.project,
        "drawing": drawing,
    }
    return Editing(request, "openings/elevation.html", ElevationForm, save, initial, context).answer()
