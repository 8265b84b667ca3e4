"""By when a house's elevations need their materials, and which houses lack a day."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from materials import services
from materials.forms.needs import NeedDatesForm
from materials.selectors import needs
from projects.access import allowed, member, wants_part
from projects.models import House
from projects.notices import say, sealed
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.ISSUE_ORDERS)
def need_dates(request: HttpRequest, pk: int) -> HttpResponse:
    """Set on which day each elevation of a house needs its materials."""
    by = member(request)
    house = row_of(House, by.company, pk, "project")
    faces = needs.faces_with_days(house)

    @transaction.atomic
    def save(form: NeedDatesForm) -> HttpResponse:
        before = _days_of(house)
        services.set_days_of_house(
            by=by,
            house=house,
            version=form.seen_version,
            days={face.elevation: form.day(face.elevation) for face in faces},
        )
        after = _days_of(house)
        changed = [(face, *before[face], after[face][0]) for face in after if before[face] != after[face]]
        undo = reverse("need-dates-back", args=[house.pk, sealed({"days": changed})]) if changed else ""
        say(request, f"The days of {house.code} are saved.", undo=undo)
        return redirect("house", house.pk)

    form = NeedDatesForm.of([face.elevation for face in faces])

    def entry(_: Any = None) -> dict[str, Any]:
        now = needs.faces_with_days(house)
        days = {form.name_of(face.elevation): face.day for face in now}
        return {**days, "version": needs.days_version(by.company, now)}

    context = {"house": house, "project": house.project, "faces": faces}
    return Editing(request, "materials/need_dates.html", form, save, entry(), context, entry=entry).answer()


@require_safe
@allowed(Action.SEE_ORDERS)
def home_houses(request: HttpRequest) -> HttpResponse:
    """Show the houses that lack something before they can be ordered for."""
    context = {"houses": needs.unfinished_houses(member(request).company)}
    template = "materials/unfinished_houses.html"
    return render(request, f"{template}#rows" if wants_part(request) else template, context)


def _days_of(house: House) -> dict[int, tuple[str | None, str]]:
    """Return each elevation's day and whose wish it is, as an undo's address can carry it."""
    return {
        face.elevation.pk: (face.day.isoformat() if face.day else None, face.basis or "builder")
        for face in needs.faces_with_days(house)
    }
