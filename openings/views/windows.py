"""Windows as they come: a house's list for the truck, one window, and the damaged ones of all houses."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from http import HTTPStatus
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from openings import services
from openings.forms.windows import DamageForm, LabelForm, SendBackForm, TickForm
from openings.models import Opening, WindowEntry
from openings.selectors import windows as reading
from projects.access import allowed, member, wants_part
from projects.errors import UserError
from projects.forms.plain import PlainForm
from projects.models import House
from projects.notices import say
from projects.photos import CONTENT_TYPE
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing

FORM = ["GET", "HEAD", "POST"]


@require_safe
@allowed(Action.RECORD_WINDOWS)
def windows(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a house's windows by where they stand, to tick as they come and as they are inspected."""
    return _list(request, pk)


@require_POST
@allowed(Action.RECORD_WINDOWS)
def count(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down that the ticked windows came with their scheduled size on the label."""
    by = member(request)

    def write(house: House, form: TickForm) -> WindowEntry:
        return services.count_windows(by=by, house=house, sizes=form.sizes, key=form.cleaned_data["key"])

    return _ticked(request, pk, write, "counted")


@require_POST
@allowed(Action.RECORD_WINDOWS)
def accept(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down that the ticked windows were inspected and are taken."""
    by = member(request)

    def write(house: House, form: TickForm) -> WindowEntry:
        return services.accept_windows(by=by, house=house, openings=form.sizes, key=form.cleaned_data["key"])

    return _ticked(request, pk, write, "accepted")


@require_safe
@allowed(Action.RECORD_WINDOWS)
def window(request: HttpRequest, pk: int) -> HttpResponse:
    """Show one window: where it stands, and all that happened to it."""
    page = reading.window_page(member(request).company, pk)
    return render(
        request, "openings/windows/window.html", _context(page.shown) | {"page": page, **_new_key()}
    )


@require_http_methods(FORM)
@allowed(Action.RECORD_WINDOWS)
def label(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down what the label of one window says."""
    by = member(request)
    row = _opening(request, pk)

    def save(form: LabelForm) -> HttpResponse:
        entry = services.count_windows(
            by=by, house=row.house, sizes={row.pk: form.size}, key=form.cleaned_data["key"]
        )
        differs = form.size != reading.scheduled_size(row)
        told = "is of another size than scheduled, so it can't be accepted" if differs else "is counted"
        return _said(request, entry, f"Window {row.mark} {told}.")

    return _form(request, row, "label", LabelForm, save)


@require_http_methods(FORM)
@allowed(Action.RECORD_WINDOWS)
def damage(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down what is damaged, with photos."""
    by = member(request)
    row = _opening(request, pk)

    def save(form: DamageForm) -> HttpResponse:
        entry = services.report_damage(
            by=by,
            opening=row,
            what=form.cleaned_data["what"],
            photos=form.sent,
            key=form.cleaned_data["key"],
        )
        (record,) = entry.records.all()
        return _said(
            request, entry, f"Window {row.mark} is damaged. Claim it by {record.claim_by:%a %-d %b}."
        )

    return _form(request, row, "damage", DamageForm, save)


@require_http_methods(FORM)
@allowed(Action.RECORD_WINDOWS)
def send_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Refuse a window; its replacement is counted anew."""
    by = member(request)
    row = _opening(request, pk)

    def save(form: SendBackForm) -> HttpResponse:
        given = form.cleaned_data
        entry = services.send_window_back(by=by, opening=row, why=given["why"], key=given["key"])
        return _said(request, entry, f"Window {row.mark} goes back. Count the one that replaces it.")

    return _form(request, row, "send_back", SendBackForm, save)


@require_POST
@allowed(Action.RECORD_WINDOWS)
def take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Take back what was written down in one go."""
    by = member(request)
    entry = services.take_back(by=by, entry=row_of(WindowEntry, by.company, pk, "house"))
    say(request, "It is taken back; both stay in the history.")
    return redirect("windows", entry.house_id)


@require_safe
@allowed(Action.RECORD_WINDOWS)
def damaged(request: HttpRequest) -> HttpResponse:
    """Show the damaged windows of all houses, the first day to claim first."""
    template = "openings/windows/damaged.html"
    context = {"windows": reading.damaged_windows(member(request).company)}
    return render(request, f"{template}#short" if wants_part(request) else template, context)


@require_safe
@allowed(Action.RECORD_WINDOWS)
def photo(request: HttpRequest, pk: int) -> HttpResponse:
    """Return a photo as a file to keep; pages show it all the same, and nothing in it is ever run."""
    row = reading.photo_of(member(request).company, pk)
    response = HttpResponse(bytes(row.content), content_type=CONTENT_TYPE)
    response["Content-Disposition"] = f'attachment; filename="{row.file_name}"'
    response["Cache-Control"] = "private, max-age=3600"
    # opened by itself, it belongs to no origin of ours
    response._csp_update = {"sandbox": [True]}  # type: ignore[attr-defined]  # as django-csp's decorator does
    return response


def _list(request: HttpRequest, pk: int, *, form: TickForm | None = None, status: int = 200) -> HttpResponse:
    page = reading.windows_page(member(request).company, pk)
    context = {
        "page": page,
        "house": page.house,
        "project": page.house.project,
        "form": form,
        "ticked": form.sizes if form else {},
    }
    return render(request, "openings/windows/windows.html", context | _new_key(), status=status)


def _ticked(
    request: HttpRequest, pk: int, write: Callable[[House, TickForm], WindowEntry], done: str
) -> HttpResponse:
    """Return where a list's ticks lead; what is refused shows the list as it is now, the ticks kept."""
    house = row_of(House, member(request).company, pk)
    form = TickForm(request.POST)
    if not form.is_valid():
        return _list(request, pk, form=form, status=HTTPStatus.UNPROCESSABLE_ENTITY)
    try:
        entry = write(house, form)
    except UserError as error:
        form.refuse(error)
        return _list(request, pk, form=form, status=error.status)
    number = len(form.sizes)
    return _said(request, entry, f"{number} window{' is' if number == 1 else 's are'} {done}.")


def _said(request: HttpRequest, entry: WindowEntry, text: str) -> HttpResponse:
    say(request, text, undo=reverse("window-take-back", args=[entry.pk]))
    return redirect("windows", entry.house_id)


def _opening(request: HttpRequest, pk: int) -> Opening:
    return row_of(Opening, member(request).company, pk, "house__project", "house__company", "elevation")


def _form(
    request: HttpRequest, row: Opening, name: str, form: type[PlainForm], save: Callable[[Any], HttpResponse]
) -> HttpResponse:
    context = _context(reading.windows_shown(row.company, [row])[0])
    return Editing(request, f"openings/windows/{name}.html", form, save, _new_key(), context).answer()


def _context(shown: reading.WindowShown) -> dict[str, object]:
    house = shown.opening.house
    return {"shown": shown, "opening": shown.opening, "house": house, "project": house.project}


def _new_key() -> dict[str, str]:
    return {"key": secrets.token_hex(16)}
