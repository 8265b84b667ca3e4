"""Cut lists of a house, a day or an order: made, shown, drawn on paper, and their rolls cut."""

from __future__ import annotations

from datetime import date

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from materials import services
from materials.cutlist.rolls import WORTH_KEEPING
from materials.documents import TABLES, cut_list_file
from materials.forms.cutting import CutForm
from materials.models import CutList, PurchaseOrder
from materials.selectors import cut_pages as reading
from materials.services.cutting import LABELS_KIND, LIST_KIND, papers_hash, request_papers
from materials.views.stock import FORM
from projects.access import allowed, member
from projects.jobs import latest
from projects.models import House
from projects.notices import say
from projects.quantities.length import NM_PER_INCH, Length
from projects.quantities.text import format_feet
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing
from projects.views.files import file_answer

SIXTEENTH = NM_PER_INCH // 16


@require_safe
@allowed(Action.SEE_STOCK)
def of_house(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what is cut for a house."""
    return _shown(request, reading.house_cut_page(member(request).company, pk))


@require_safe
@allowed(Action.SEE_STOCK)
def of_day(request: HttpRequest, day: date) -> HttpResponse:
    """Show what is cut for the elevations of a day."""
    return _shown(request, reading.day_cut_page(member(request).company, day))


@require_safe
@allowed(Action.SEE_STOCK)
def of_order(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what is cut from an order's rolls."""
    return _shown(request, reading.order_cut_page(member(request).company, pk))


@require_safe
@allowed(Action.SEE_STOCK)
def file_of_house(request: HttpRequest, pk: int, form: str) -> HttpResponse:
    """Hand out a house's cut list as a table."""
    return file_answer(cut_list_file(reading.house_cut_page(member(request).company, pk), form))


@require_safe
@allowed(Action.SEE_STOCK)
def file_of_day(request: HttpRequest, day: date, form: str) -> HttpResponse:
    """Hand out a day's cut list as a table."""
    return file_answer(cut_list_file(reading.day_cut_page(member(request).company, day), form))


@require_safe
@allowed(Action.SEE_STOCK)
def file_of_order(request: HttpRequest, pk: int, form: str) -> HttpResponse:
    """Hand out the cut list of an order's rolls as a table."""
    return file_answer(cut_list_file(reading.order_cut_page(member(request).company, pk), form))


@require_POST
@allowed(Action.USE_STOCK)
def make_for_house(request: HttpRequest, pk: int) -> HttpResponse:
    """Lay a house's strips out on rolls, as things stand now."""
    by = member(request)
    services.make_cut_list(by=by, house=row_of(House, by.company, pk, "project"))
    return redirect("cut-list-house", pk)


@require_POST
@allowed(Action.USE_STOCK)
def make_for_day(request: HttpRequest, day: date) -> HttpResponse:
    """Lay a day's strips out on rolls, as things stand now."""
    services.make_cut_list(by=member(request), day=day)
    return redirect("cut-list-day", day)


@require_POST
@allowed(Action.USE_STOCK)
def make_for_order(request: HttpRequest, pk: int) -> HttpResponse:
    """Lay the strips that an order covers out on its rolls, those that came and those to come."""
    by = member(request)
    services.make_cut_list(by=by, order=row_of(PurchaseOrder, by.company, pk))
    return redirect("cut-list-order", pk)


@require_POST
@allowed(Action.SEE_STOCK)
def papers(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask for the list and its labels on paper; the page shows how far they are."""
    by = member(request)
    row = row_of(CutList, by.company, pk, "house")
    request_papers(by=by, cut_list=row)
    return _back(row)


@require_http_methods(FORM)
@allowed(Action.RECORD_WORK)
def cut(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down that a roll is cut and what is kept of its rest."""
    by = member(request)
    row, shown = reading.roll_shown(by.company, pk)

    def save(form: CutForm) -> HttpResponse:
        done = services.cut_roll(by=by, roll=row, kept_nm=form.cleaned_data["kept"].nm)
        rest = f"; {format_feet(Length(done.offcut.piece_size))} are in stock" if done.offcut else ""
        say(request, f"No. {done.position} is cut{rest}.")
        return _back(row.cut_list)

    worth = row.left_nm >= WORTH_KEEPING
    initial = {"kept": format_feet(Length(row.left_nm - row.left_nm % SIXTEENTH)) if worth else ""}
    context = {"roll": shown, "back": _back(row.cut_list).url}
    return Editing(request, "materials/cut_form.html", CutForm, save, initial, context).answer()


def _shown(request: HttpRequest, page: reading.CutPage) -> HttpResponse:
    row = page.row
    jobs = [
        latest(company=row.company, kind=kind, input_hash=papers_hash(row)) if page.is_made else None
        for kind in (LIST_KIND, LABELS_KIND)
    ]
    context = {
        "page": page,
        "jobs": [job for job in jobs if job],
        "make": _address(row, "-make"),
        "files": [(form.upper(), _address(row, f"-{form}")) for form in TABLES],
    }
    return render(request, "materials/cut_list.html", context)


def _back(row: CutList) -> HttpResponseRedirect:
    return HttpResponseRedirect(_address(row))


def _address(row: CutList, more: str = "") -> str:
    """Return where a list is shown; with `-make` made, with the name of a table's form handed out as one."""
    for kind, whose in (("house", row.house_id), ("order", row.order_id), ("day", row.day)):
        if whose:
            return reverse(f"cut-list-{kind}{more}", args=[whose])
    raise AssertionError("a cut list of nothing")
