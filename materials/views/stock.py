"""What lies in stock: the list, a lot's ledger, and the forms that count, find, take and keep."""

from __future__ import annotations

import secrets

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from materials import services
from materials.documents import deliveries_calendar, stock_file
from materials.forms.stock import CorrectForm, CountForm, LevelForm, NewStockForm, OffcutForm, TakeForm
from materials.models import Lot, Place
from materials.selectors import stock as reading
from materials.selectors.promised import promised_days
from projects.access import allowed, member
from projects.errors import BadValue
from projects.models import House
from projects.notices import say, sealed
from projects.quantities.length import Length
from projects.quantities.text import parse_length
from projects.rights import Action, may
from projects.selectors import row_of
from projects.views.editing import Editing
from projects.views.files import file_answer

FORM = ["GET", "HEAD", "POST"]
HAPPENS = (
    ("use", "used", Action.USE_STOCK),
    ("move", "moved to another place", Action.USE_STOCK),
    ("scrap", "scrapped", Action.COUNT_STOCK),
    ("return", "sent back to the supplier", Action.COUNT_STOCK),
)


def new_key() -> dict[str, str]:
    """Return the key of a form that nobody has sent yet."""
    return {"key": secrets.token_hex(16)}


@require_safe
@allowed(Action.SEE_STOCK)
def stock(request: HttpRequest) -> HttpResponse:
    """Show what lies where, what expires, and what is to come."""
    return render(request, "materials/stock.html", {"page": reading.stock_page(member(request).company)})


@require_safe
@allowed(Action.SEE_STOCK)
def table(request: HttpRequest, form: str) -> HttpResponse:
    """Hand out what lies in stock as a table, to count by."""
    return file_answer(stock_file(reading.stock_page(member(request).company), form))


@require_safe
@allowed(Action.RECEIVE_DELIVERIES)
def calendar(request: HttpRequest) -> HttpResponse:
    """Hand out which deliveries are due as a calendar."""
    return file_answer(deliveries_calendar(member(request).company, at=timezone.now()))


@require_safe
@allowed(Action.SEE_STOCK)
def promised(request: HttpRequest) -> HttpResponse:
    """Show what is kept for which house and day."""
    context = {"days": promised_days(member(request).company)}
    return render(request, "materials/promised.html", context)


@require_safe
@allowed(Action.SEE_STOCK)
def lot(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a lot with its ledger."""
    company = member(request).company
    page = reading.lot_page(company, row_of(Lot, company, pk))
    return render(request, "materials/lot.html", {"page": page})


@require_http_methods(FORM)
@allowed(Action.COUNT_STOCK)
def count(request: HttpRequest) -> HttpResponse:
    """Count the shop: only what was filled in is set."""
    by = member(request)
    shop = reading.shop_of(by.company)
    lots = reading.lots_shown(by.company, place=shop) if shop else []

    @transaction.atomic
    def save(form: CountForm) -> HttpResponse:
        counted = list(form.counted())
        for each, pieces in counted:
            key = f"{form.cleaned_data['key']}.{each.row.pk}"
            services.count_lot(by=by, lot=each.row, place=each.heaps[0].place, pieces=pieces, key=key)
        say(request, f"{len(counted)} lot{'s are' if len(counted) != 1 else ' is'} counted.")
        return redirect("stock")

    context = {"lots": lots}
    return Editing(request, "materials/count.html", CountForm.of(lots), save, new_key(), context).answer()


@require_http_methods(FORM)
@allowed(Action.COUNT_STOCK)
def add(request: HttpRequest) -> HttpResponse:
    """Write down what was found in the shop."""
    by = member(request)

    def save(form: NewStockForm) -> HttpResponse:
        material, pack = form.chosen
        given = form.cleaned_data
        row = services.add_stock(
            by=by,
            material=material,
            pack=pack,
            packs=given["packs"],
            number=given["number"],
            last_good=given["last_good"],
            key=given["key"],
        )
        say(request, "The lot is in stock.")
        return redirect("lot", row.pk)

    return Editing(request, "materials/stock_form.html", NewStockForm, save, new_key()).answer()


@require_http_methods(FORM)
@allowed(Action.COUNT_STOCK)
def add_offcut(request: HttpRequest) -> HttpResponse:
    """Write down a rest that is worth keeping."""
    by = member(request)

    def save(form: OffcutForm) -> HttpResponse:
        given = form.cleaned_data
        row = services.add_offcut(
            by=by,
            material=given["material"],
            name=given["name"],
            length_nm=length_of(given["length"]).nm,
            key=given["key"],
        )
        say(request, "The offcut is in stock; the next cut lists use it.")
        return redirect("lot", row.pk)

    return Editing(request, "materials/offcut_form.html", OffcutForm, save, new_key()).answer()


@require_http_methods(FORM)
@allowed(Action.COUNT_STOCK)
def correct(request: HttpRequest, pk: int) -> HttpResponse:
    """Set a wrong line of a lot's ledger right by another."""
    by = member(request)
    row = row_of(Lot, by.company, pk)
    page = reading.lot_page(by.company, row)

    def save(form: CorrectForm) -> HttpResponse:
        given = form.cleaned_data
        place = row_of(Place, by.company, int(given["place"]))
        told = {name: given[name] for name in ("pieces", "key", "reason")}
        services.correct_lot(by=by, lot=row, place=place, **told)
        say(request, "The correction stands in the ledger.")
        return redirect("lot", row.pk)

    form = type("CorrectForm", (CorrectForm,), {"heaps": page.places})
    return Editing(request, "materials/correct_form.html", form, save, new_key(), {"lot": page.lot}).answer()


@require_http_methods(FORM)
@allowed(Action.COUNT_STOCK)
def level(request: HttpRequest) -> HttpResponse:
    """Set how much of a material must stay."""
    by = member(request)

    def save(form: LevelForm) -> HttpResponse:
        material, quantity = form.chosen
        before = reading.level_of(by.company, material)
        row = services.set_minimum(by=by, material=material, quantity=quantity)
        now = row.quantity if row else 0
        undo = reverse("stock-level-back", args=[sealed({"level": (material, before, now)})])
        told = "The minimum is set." if quantity else "The minimum is taken away."
        say(request, told, undo=undo if before != now else "")
        return redirect("stock")

    return Editing(request, "materials/level_form.html", LevelForm, save).answer()


@require_http_methods(FORM)
@allowed(Action.USE_STOCK)
def take(request: HttpRequest, pk: int) -> HttpResponse:
    """Use, move, scrap or send back pieces of a lot."""
    by = member(request)
    row = row_of(Lot, by.company, pk)
    (shown,) = reading.lots_shown(by.company, lot=row.pk)
    offered = {
        "kinds": [(kind, words) for kind, words, right in HAPPENS if may(by, right)],
        "heaps": [heap.place for heap in shown.heaps],
        "places": reading.places_of(by.company),
        "houses": reading.houses_of(by.company),
    }

    def save(form: TakeForm) -> HttpResponse:
        given = form.cleaned_data
        told = {name: given[name] for name in ("pieces", "key", "reason")}
        place = row_of(Place, by.company, int(given["place"]))
        if given["kind"] == "move":
            services.move_lot(by=by, lot=row, place=place, to=_target(request, form), **told)
        else:
            services.take_from_lot(by=by, lot=row, place=place, kind=given["kind"], **told)
        say(request, "It stands in the ledger.")
        return redirect("lot", row.pk)

    form = type("TakeForm", (TakeForm,), offered)
    return Editing(request, "materials/take_form.html", form, save, new_key(), {"lot": shown}).answer()


def length_of(text: str, *, field: str = "length") -> Length:
    """Return a length as typed. Raises BadValue at its field."""
    try:
        return parse_length(text)
    except BadValue as error:
        raise BadValue(problem=error.problem, remedy=error.remedy, field=field, value=text) from error


def _target(request: HttpRequest, form: TakeForm) -> Place:
    """Return the place that was chosen or named, made where it is new. Raises BadValue where none was."""
    by, given = member(request), form.cleaned_data
    if given["truck"]:
        return services.make_place(by=by, kind="truck", name=given["truck"])
    kind, _, pk = given["to"].partition("-")
    if kind == "place":
        return row_of(Place, by.company, int(pk))
    if kind == "house":
        return services.make_place(by=by, kind="house", house=row_of(House, by.company, int(pk)))
    raise BadValue(problem="The place to move to is missing.", remedy="Choose where it goes.", field="to")
