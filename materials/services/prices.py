"""Suppliers and their prices; a price is never changed, a newer one follows it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from django.db import transaction

from materials.catalogue.load import load_catalogue
from materials.models import Price, Supplier
from materials.pricelist.terms import Break, check_breaks
from projects.actors import Actor
from projects.quantities.money import Money
from projects.rights import Action, require
from projects.services.people import clean_email
from projects.services.writing import change, created, hold, unless_taken
from projects.texts import clean_code, clean_text

_SHOWN = ("code", "name", "email", "address", "lead_days", "minimum_cents", "freight_cents", "holidays")


@transaction.atomic
def set_supplier(
    *,
    by: Actor,
    supplier: Supplier | None,
    code: str,
    name: str,
    email: str = "",
    address: str = "",
    lead_days: int = 2,
    minimum: Money | None = None,
    freight: Money | None = None,
    holidays: Iterable[date] = (),
) -> Supplier:
    """Return the supplier, new or as changed.

    Raises Taken where the company has the code already, BadValue for a text that no order could carry.
    """
    require(by, Action.EDIT_PRICES, *([supplier] if supplier else []))
    values = {
        "code": clean_code(code, field="code", what="Supplier code"),
        "name": clean_text(name, field="name", what="Supplier", longest=120),
        "email": clean_email(email) if email.strip() else "",
        "address": _clean_address(address),
        "lead_days": lead_days,
        "minimum_cents": minimum.cents if minimum else 0,
        "freight_cents": freight.cents if freight else 0,
        "holidays": sorted(day.isoformat() for day in holidays),
    }
    with unless_taken("supplier_code_once", field="code", what="Supplier code", value=str(values["code"])):
        if supplier is not None:
            return change(hold(supplier), by=by, action="edit supplier", values=values)
        made = Supplier.objects.create(company=by.company, **values)
    return created(made, by=by, action="add supplier", shown=_SHOWN)


@transaction.atomic
def set_price(
    *,
    by: Actor,
    supplier: Supplier,
    material: str,
    pack: str,
    price: Money,
    valid_from: date,
    breaks: Iterable[Break] = (),
    minimum_packs: int = 1,
    grade: str = "E",
    source: str = "",
) -> Price:
    """Return the price of a pack from a day on.

    Raises BadValue for an unknown material, pack or amount, and for a break that does not lower the price.
    """
    require(by, Action.EDIT_PRICES, supplier)
    packaging = load_catalogue().material(material).pack(pack)
    terms = {
        "price_cents": price.cents,
        "breaks": [list(step) for step in check_breaks(breaks, price=price.cents)],
        "minimum_packs": minimum_packs,
        "grade": grade,
        "source": source[:200],
    }
    row, is_new = Price.objects.get_or_create(
        supplier=supplier,
        material=material,
        pack=pack,
        valid_from=valid_from,
        defaults={"company": by.company, "pack_size": packaging.contains, **terms},
    )
    if is_new:
        return created(
            row, by=by, action="set price", shown=("material", "pack", "price_cents", "valid_from")
        )
    return change(row, by=by, action="correct price", values=terms)


def _clean_address(address: str) -> str:
    """Return the address line by line, without empty ones. Raises BadValue for a control character."""
    lines = address.replace("\r\n", "\n").split("\n")
    cleaned = (
        clean_text(line, field="address", what="Address", longest=200, required=False) for line in lines
    )
    return "\n".join(line for line in cleaned if line)
