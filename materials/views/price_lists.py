"""A supplier's price list: handed out, sent, seen beside today's prices, loaded."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from materials import services
from materials.catalogue.load import load_catalogue
from materials.forms.price_lists import LoadForm, PriceListForm, sealed, unsealed
from materials.models import Supplier
from materials.pricelist.read import PriceList, read_price_list
from materials.selectors import price_lists as reading
from projects.access import allowed, member
from projects.errors import BadValue
from projects.messages import words
from projects.notices import say
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PRICES)
def send(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a supplier's list in and show what it would change; nothing is written yet."""
    supplier = row_of(Supplier, member(request).company, pk)

    def save(form: PriceListForm) -> HttpResponse:
        file = form.cleaned_data["prices"]
        return _preview(request, supplier, str(file.name), read_price_list(file.read(), load_catalogue()))

    return Editing(
        request, "materials/price_list_send.html", PriceListForm, save, context={"supplier": supplier}
    ).answer()


@require_POST
@allowed(Action.EDIT_PRICES)
def load(request: HttpRequest, pk: int) -> HttpResponse:
    """Load the list that was seen, all of its good rows or none."""
    by = member(request)
    supplier = row_of(Supplier, by.company, pk)
    form = LoadForm(request.POST)
    try:
        name, prices, refused = unsealed(request.POST.get("seen", ""), supplier=pk)
        if refused and not (form.is_valid() and form.cleaned_data["keep_good_rows"]):
            raise BadValue(
                problem=f"{refused} rows were refused, so nothing was loaded.",
                remedy="Fix them and send the list again, or choose to load the good rows.",
            )
    except BadValue as error:
        say(request, words(error))
        return redirect("price-list", pk)
    compared = reading.compared(supplier, PriceList(prices, ()))
    loaded = services.load_price_list(by=by, supplier=supplier, prices=compared, name=name)
    say(request, f"{loaded} price{'s are' if loaded != 1 else ' is'} loaded. Issued orders keep theirs.")
    return redirect("prices")


@require_safe
@allowed(Action.SEE_PRICES)
def today(request: HttpRequest, pk: int) -> HttpResponse:
    """Hand out a supplier's prices of today as a list to fill in."""
    supplier = row_of(Supplier, member(request).company, pk)
    answer = HttpResponse(reading.list_of(supplier), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="prices-{supplier.pk}.csv"'
    return answer


def _preview(request: HttpRequest, supplier: Supplier, name: str, listed: PriceList) -> HttpResponse:
    compared = reading.compared(supplier, listed)
    standings = [each.standing for each in compared]
    context = {
        "supplier": supplier,
        "file_name": name,
        "rows": [row for row in reading.rows_of(supplier, compared) if row.standing != "same"],
        "problems": listed.problems,
        "counts": {standing: standings.count(standing) for standing in ("new", "changed", "same")},
        "seen": sealed(supplier.pk, name, listed.prices, refused=len(listed.problems)),
    }
    return render(request, "materials/price_list.html", context)
