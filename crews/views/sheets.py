"""A crew's sheet: the page for the phone, its making, its PDF."""

from __future__ import annotations

import secrets
from datetime import date

from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from crews import services
from crews.models import Crew
from crews.selectors import sheets
from projects import jobs
from projects.access import allowed, member, wants_part
from projects.errors import NotThere, UserError
from projects.messages import words
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of


@require_safe
@allowed(Action.SEE_SHEETS)
def sheet(request: HttpRequest, pk: int, day: date) -> HttpResponse:
    """Show a crew's day; while its sheet is made, the part that says so keeps asking."""
    page = sheets.sheet_page(member(request).company, pk, day)
    template = "crews/sheet.html"
    if wants_part(request, "sheet-state"):
        response = render(request, f"{template}#state", {"page": page})
        if page.is_made and not (page.job and page.job.is_open):
            response["HX-Refresh"] = "true"
        return response
    return render(request, template, {"page": page, "key": secrets.token_hex(8)})


@require_POST
@allowed(Action.SEE_SHEETS)
def make(request: HttpRequest, pk: int, day: date) -> HttpResponse:
    """Ask for the sheet as things stand now."""
    by = member(request)
    crew = row_of(Crew, by.company, pk)
    try:
        services.request_sheet(by=by, crew=crew, day=day)
    except UserError as refusal:
        say(request, words(refusal))
    return redirect("sheet", pk, day)


@require_safe
@allowed(Action.SEE_SHEETS)
def pdf(request: HttpRequest, pk: int, day: date) -> FileResponse:
    """Hand out the sheet's PDF, as things stand now."""
    job = sheets.sheet_page(member(request).company, pk, day).pdf
    if job is None:
        raise NotThere
    try:
        content = jobs.path_of(job).open("rb")
    except FileNotFoundError as error:
        raise NotThere from error
    return FileResponse(content, filename=job.file_name, content_type=job.content_type)


@require_safe
@allowed(Action.SEE_SHEETS)
def home_sheet(request: HttpRequest) -> HttpResponse:
    """Show a person's own next day, for the crew's first page."""
    by = member(request)
    template = "crews/my_day.html"
    context = {"mine": sheets.my_day(by.company, by.user)}
    return render(request, f"{template}#day" if wants_part(request) else template, context)


@require_safe
@allowed(Action.SEE_PLAN)
def home_crews(request: HttpRequest) -> HttpResponse:
    """Show today's crews and the weather where they are, for the foreman's first page."""
    template = "crews/today.html"
    context = {"page": sheets.today_page(member(request).company)}
    return render(request, f"{template}#crews" if wants_part(request) else template, context)
