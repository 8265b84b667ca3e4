"""One opening: its section, its takeoff with every reason, its form."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from openings import selectors, services
from openings.convert import opening_input
from openings.forms.openings import OpeningForm, entry_of
from openings.models import Opening
from projects.access import allowed, member
from projects.models import House
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing


@require_safe
@allowed(Action.SEE_OPENINGS)
def opening(request: HttpRequest, pk: int) -> HttpResponse:
    """Show an opening with its layers in lap order and each number's reason."""
    page = selectors.opening_page(member(request).company, pk)
    house = page.opening.house
    context = {"page": page, "opening": page.opening, "house": house, "project": house.project}
    return render(request, "openings/opening.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_OPENINGS)
def create(request: HttpRequest, pk: int) -> HttpResponse:
    """Add one opening to a house."""
    by = member(request)
    house = row_of(House, by.company, pk, "project")

    def save(form: OpeningForm) -> HttpResponse:
        row = services.create_opening(by=by, house=house, opening=form.cleaned_data["value"])
        say(request, f"Opening {row.mark} is added.", undo=reverse("opening-remove", args=[row.pk]))
        return redirect("house", house.pk)

    form = OpeningForm.under(selectors.specification_in_force(house.project).specification)
    context = {"house": house, "project": house.project}
    return Editing(request, "openings/opening_form.html", form, save, context=context).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_OPENINGS)
def edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Change an opening; every number that hangs on it follows."""
    by = member(request)
    row = row_of(Opening, by.company, pk, "house__project", "house__company", "elevation")
    house = row.house

    def save(form: OpeningForm) -> HttpResponse:
        saved = services.edit_opening(
            by=by, opening=row, version=form.seen_version, value=form.cleaned_data["value"]
        )
        say(request, f"Opening {saved.mark} is saved.")
        return redirect("opening", saved.pk)

    form = OpeningForm.under(selectors.specification_in_force(house.project).specification)
    initial = {**entry_of(opening_input(row)), "version": row.version}
    context = {"opening": row, "house": house, "project": house.project}
    return Editing(
        request,
        "openings/opening_form.html",
        form,
        save,
        initial,
        context,
        entry=lambda now: entry_of(opening_input(now)),
    ).answer()


@require_POST
@allowed(Action.EDIT_OPENINGS)
def remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Take an opening out of its house; the next page offers to put it back."""
    by = member(request)
    row = services.remove_opening(by=by, opening=row_of(Opening, by.company, pk, "house"))
    say(request, f"Opening {row.mark} is removed.", undo=reverse("opening-restore", args=[row.pk]))
    return redirect("house", row.house_id)


@require_POST
@allowed(Action.EDIT_OPENINGS)
def restore(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a removed opening back."""
    by = member(request)
    row = services.restore_opening(by=by, opening=row_of(Opening, by.company, pk, "house"))
    say(request, f"Opening {row.mark} is back.")
    return redirect("house", row.house_id)
