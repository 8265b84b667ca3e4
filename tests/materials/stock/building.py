"""Lots in the shop of the tests' company."""

from __future__ import annotations

from datetime import date
from itertools import count

from materials import services
from materials.catalogue.load import load_catalogue
from materials.models import Lot, Movement, Place
from materials.services import ledger

_forms = count(1)
JUNE = {day: date(2026, 6, day) for day in range(1, 31)}
TUBE = load_catalogue().material("sealant").pack("cartridge-10.1oz").contains


def key() -> str:
    """Return the key of a form that was never sent before."""
    return f"stock-form-{next(_forms)}"


def tubes(by, number, *, lot="", last_good=None) -> Lot:
    """Return a lot of so many tubes of sealant."""
    return services.add_stock(
        by=by,
        material="sealant",
        pack="cartridge-10.1oz",
        packs=number,
        number=lot,
        last_good=last_good,
        key=key(),
    )


def shop(by) -> Place:
    return ledger.shop_of(by)


def there(lot, place) -> int:
    """Return how many pieces of a lot lie at a place."""
    return sum(Movement.objects.filter(lot=lot, place=place).values_list("quantity", flat=True)) // (
        lot.piece_size
    )


def told(lot) -> list[tuple[str, int, int]]:
    """Return a lot's lines: kind, pieces, and what lay there after."""
    return [
        (row.kind, row.quantity // lot.piece_size, row.balance // lot.piece_size)
        for row in Movement.objects.filter(lot=lot).order_by("id")
    ]
