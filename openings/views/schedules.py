"""A window schedule on its way into a house: sent, matched, previewed, taken over or put away."""

from __future__ import annotations

import csv
from http import HTTPStatus

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from openings import selectors, services
from openings.forms.schedules import ConfirmForm, MatchForm, ScheduleForm
from openings.models import ScheduleImport
from openings.schedule.compare import Standing
from openings.schedule.limits import NO_SCHEDULE
from openings.services.schedule import Preview, preview_import
from projects.access import allowed, member
from projects.errors import UserError
from projects.exports import inert
from projects.messages import words
from projects.models import House
from projects.notices import say
from projects.rights import Action
from projects.selectors import page_of, row_of
from projects.views.editing import Editing

SHOWN_PROBLEMS = 200


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.IMPORT_OPENINGS)
def send(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a builder's file in; nothing changes before its preview is confirmed."""
    by = member(request)
    house = row_of(House, by.company, pk, "project")

    def save(form: ScheduleForm) -> HttpResponse:
        file = form.cleaned_data["schedule"]
        row = services.start_import(by=by, house=house, file_name=file.name, content=file.read())
        return redirect("schedule", row.pk)

    context = {"house": house, "project": house.project}
    return Editing(request, "openings/schedule_send.html", ScheduleForm, save, context=context).answer()


@require_safe
@allowed(Action.IMPORT_OPENINGS)
def preview(request: HttpRequest, pk: int) -> HttpResponse:
    """Show every row as new, changed, same or refused, before anything is written."""
    row = selectors.schedule_of(member(request).company, pk)
    return _page(request, row, preview_import(row))


@require_POST
@allowed(Action.IMPORT_OPENINGS)
def match(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep which header means which column, for this file and the builder's next ones."""
    by = member(request)
    row = selectors.schedule_of(by.company, pk)
    found = preview_import(row)
    form = _match_form(row, found, request)
    if not form.is_valid():
        return _page(request, row, found, match_form=form, status=HTTPStatus.UNPROCESSABLE_ENTITY)
    services.match_import(
        by=by, schedule_import=row, match=form.match, sheet=request.POST.get("sheet", row.sheet)
    )
    say(request, f"The headers are matched, and remembered for {row.house.project.builder}.")
    return redirect("schedule", row.pk)


@require_POST
@allowed(Action.IMPORT_OPENINGS)
def confirm(request: HttpRequest, pk: int) -> HttpResponse:
    """Take the schedule over into the house."""
    by = member(request)
    row = selectors.schedule_of(by.company, pk)
    form = ConfirmForm(request.POST)
    form.is_valid()
    try:
        done = services.confirm_import(by=by, schedule_import=row, **form.cleaned_data)
    except UserError as error:
        return _page(request, row, preview_import(row), refusal=words(error), status=error.status)
    count = done.comparison.count
    say(
        request,
        f"{row.file_name} is saved: {count(Standing.NEW)} new, {count(Standing.CHANGED)} changed, "
        f"{count(Standing.SAME)} the same.",
    )
    return redirect("house", row.house_id)


@require_POST
@allowed(Action.IMPORT_OPENINGS)
def put_away(request: HttpRequest, pk: int) -> HttpResponse:
    """Put the schedule away; the house stays as it is."""
    by = member(request)
    row = services.put_away_import(by=by, schedule_import=selectors.schedule_of(by.company, pk))
    say(request, f"{row.file_name} is discarded. The house is as it was.")
    return redirect("house", row.house_id)


@require_safe
@allowed(Action.IMPORT_OPENINGS)
def refused_rows(request: HttpRequest, pk: int) -> HttpResponse:
    """Return the refused rows as the file has them, each with what to do, to mend and send again."""
    row = selectors.schedule_of(member(request).company, pk)
    reading = preview_import(row).reading
    response = HttpResponse(content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = 'attachment; filename="refused-rows.csv"'
    response.write("\ufeff")
    out = csv.writer(response)
    out.writerow([*map(inert, reading.header_cells), "what to do"])
    for bad in reading.bad_rows:
        cells = [*bad.cells, *[""] * (len(reading.header_cells) - len(bad.cells))]
        out.writerow([*map(inert, cells), inert(bad.reason)])
    return response


def _page(
    request: HttpRequest,
    row: ScheduleImport,
    found: Preview,
    *,
    match_form: MatchForm | None = None,
    refusal: str = "",
    status: int = HTTPStatus.OK,
) -> HttpResponse:
    reading = found.reading
    context = {
        "schedule": row,
        "house": row.house,
        "project": row.house.project,
        "reading": reading,
        "comparison": found.comparison,
        "counts": {str(standing): found.comparison.count(standing) for standing in Standing},
        "bad_rows": len(reading.bad_rows),
        "problems": reading.problems[:SHOWN_PROBLEMS],
        "more_problems": max(0, len(reading.problems) - SHOWN_PROBLEMS),
        "page": page_of(found.comparison.openings, request.GET.get("page", "1")),
        "match_form": match_form or _match_form(row, found),
        "must_match": reading.refusal == NO_SCHEDULE,
        "refusal": refusal,
        "decided": row.state != ScheduleImport.State.PREVIEW,
        "here": reverse("schedule", args=[row.pk]),
    }
    return render(request, "openings/schedule.html", context, status=status)


def _match_form(row: ScheduleImport, found: Preview, request: HttpRequest | None = None) -> MatchForm:
    reading = found.reading
    chosen = {header: column for column, header in reading.matched.items()} | dict(row.match)
    entry = request.POST if request is not None else None
    return MatchForm(entry, headers=[text for text in reading.headers if text], chosen=chosen)
