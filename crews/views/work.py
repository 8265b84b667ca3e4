"""A crew's work as it is written down: steps done, steps taken back."""

from __future__ import annotations

import secrets
from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from crews import services
from crews.errors import ReverseLap, StepRestedOn, StepTooSoon
from crews.forms.work import DoneForm, TakeBackForm
from crews.models import Crew, WorkEntry
from openings.models import Opening
from projects.access import allowed, member
from projects.errors import BadValue
from projects.forms.plain import PlainForm
from projects.messages import words
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of


@require_POST
@allowed(Action.RECORD_WORK)
def done(request: HttpRequest, pk: int, day: date) -> HttpResponse:
    """Write down that steps of an opening are done; the next page offers to take it back."""
    by = member(request)
    crew = row_of(Crew, by.company, pk)
    given = _read(DoneForm(request.POST))
    opening = row_of(Opening, by.company, given["opening"], "house__project__company", "elevation")
    try:
        entry = services.mark_done(
            by=by,
            crew=crew,
            day=day,
            opening=opening,
            steps=given["steps"],
            with_earlier=given["with_earlier"],
            key=given["key"],
        )
    except (ReverseLap, StepTooSoon) as refusal:
        context = {
            "told": words(refusal),
            "missing": refusal.parameters["missing"],
            "crew": crew,
            "day": day,
            "opening": opening,
            "given": given,
            "key": secrets.token_hex(16),  # the second form says more, so it is another
        }
        return render(request, "crews/step_refused.html", context, status=refusal.status)
    marked = entry.records.count()
    undo = reverse("work-take-back", args=[entry.pk])
    say(request, f"{opening.mark}: {'1 step is' if marked == 1 else f'{marked} steps are'} done.", undo=undo)
    return _to_sheet(entry, given)


@require_POST
@allowed(Action.RECORD_WORK)
def take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Take back what was marked in one go, or one step of it."""
    by = member(request)
    entry = row_of(
        WorkEntry, by.company, pk, "crew", "opening__house__project__company", "opening__elevation"
    )
    given = _read(TakeBackForm(request.POST))
    try:
        services.take_back_work(by=by, entry=entry, step=given["only"])
    except StepRestedOn as refusal:
        say(request, words(refusal))
    else:
        say(request, f"{entry.opening.mark}: not done after all. Both stay in the record.")
    return _to_sheet(entry, given)


def _read(form: PlainForm) -> dict[str, Any]:
    if not form.is_valid():
        raise BadValue(problem="This tap can't be read.", remedy="Reload the sheet and tap again.")
    return form.cleaned_data


def _to_sheet(entry: WorkEntry, given: dict[str, Any]) -> HttpResponse:
    """Go back to where the person tapped: the top of the sheet, or the opening's steps."""
    address = reverse("sheet", args=[entry.crew_id, entry.day])
    return redirect(f"{address}#visit-{entry.opening_id}" if given["from_visit"] else address)
