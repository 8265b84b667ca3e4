"""Suppliers and their prices."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from materials import services
from materials.forms.prices import NewSupplierForm, PriceForm, SupplierForm
from materials.models import Supplier
from materials.pricelist.terms import read_breaks, read_days
from materials.selectors import orders
from materials.selectors.prices import price_of_day, price_page, terms_of
from projects.access import allowed, member
from projects.models import Membership
from projects.notices import say, sealed
from projects.quantities.money import Money
from projects.rights import Action
from projects.selectors import row_of
from projects.views.editing import Editing


@require_safe
@allowed(Action.SEE_PRICES)
def prices(request: HttpRequest) -> HttpResponse:
    """Show each supplier's prices as they are today."""
    return render(request, "materials/prices.html", {"suppliers": price_page(member(request).company)})


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PRICES)
def add(request: HttpRequest) -> HttpResponse:
    """Set a price from a day on; the one before stays for the orders that used it."""
    by = member(request)
    suppliers = orders.suppliers_of(by.company)

    def save(form: PriceForm) -> HttpResponse:
        cleaned = form.cleaned_data
        material, _, pack = cleaned["pack"].partition("/")
        price = Money.of(cleaned["price"], by.company.currency)
        supplier = row_of(Supplier, by.company, int(cleaned["supplier"]))
        of_day = {"material": material, "pack": pack, "valid_from": cleaned["valid_from"]}
        was = price_of_day(supplier, **of_day)
        before = terms_of(was) if was else None
        row = services.set_price(
            by=by,
            supplier=supplier,
            **of_day,
            price=price,
            breaks=read_breaks(cleaned["breaks"], price=price.cents),
            minimum_packs=cleaned["minimum_packs"] or 1,
            source=cleaned["source"],
        )
        undo = reverse("price-back", args=[sealed({"price": (row.pk, before, terms_of(row))})])
        told = f"{row.material}, {row.pack} has its price from {row.valid_from:%d %b %Y} on."
        say(request, told, undo=undo if before != terms_of(row) else "")
        return redirect("prices")

    initial = {"valid_from": orders.local_today(by.company)}
    return Editing(request, "materials/price_form.html", PriceForm.of(suppliers), save, initial).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PRICES)
def add_supplier(request: HttpRequest) -> HttpResponse:
    """Add a supplier; its prices come after."""
    by = member(request)

    def save(form: NewSupplierForm) -> HttpResponse:
        saved = _save(by, None, form.cleaned_data["code"], form)
        say(request, f"{saved.name} is added. Load its price list, or set its prices one by one.")
        return redirect("prices")

    initial = {"lead_days": 2, "minimum": "0.00", "freight": "0.00"}
    return Editing(request, "materials/supplier_form.html", NewSupplierForm, save, initial).answer()


@require_http_methods(["GET", "HEAD", "POST"])
@allowed(Action.EDIT_PRICES)
def edit_supplier(request: HttpRequest, pk: int) -> HttpResponse:
    """Change where a supplier is reached and on what terms it sells."""
    by = member(request)
    supplier = row_of(Supplier, by.company, pk)

    def save(form: SupplierForm) -> HttpResponse:
        saved = _save(by, supplier, supplier.code, form)
        say(request, f"{saved.name} is saved.")
        return redirect("prices")

    initial = {
        "name": supplier.name,
        "email": supplier.email,
        "address": supplier.address,
        "lead_days": supplier.lead_days,
        "minimum": Money(supplier.minimum_cents).as_text,
        "freight": Money(supplier.freight_cents).as_text,
        "holidays": "\n".join(supplier.holidays),
    }
    context = {"supplier": supplier}
    return Editing(request, "materials/supplier_form.html", SupplierForm, save, initial, context).answer()


def _save(by: Membership, supplier: Supplier | None, code: str, form: SupplierForm) -> Supplier:
    cleaned = form.cleaned_data
    return services.set_supplier(
        by=by,
        supplier=supplier,
        code=code,
        name=cleaned["name"],
        email=cleaned["email"],
        address=cleaned["address"],
        lead_days=cleaned["lead_days"],
        minimum=Money.of(cleaned["minimum"], by.company.currency),
        freight=Money.of(cleaned["freight"], by.company.currency),
        holidays=read_days(cleaned["holidays"]),
    )
