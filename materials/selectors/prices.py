"""Each supplier's prices as they are today."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from materials.catalogue.load import load_catalogue
from materials.convert import breaks_of, market_of, prices_on
from materials.models import Price, Supplier
from materials.ordering.buying import Market
from materials.selectors.orders import local_today, suppliers_of
from projects.models import Company
from projects.quantities.money import Money

TERMS = ("price_cents", "breaks", "minimum_packs", "grade", "source")


def market_today(company: Company) -> Market:
    """Return who sells what to the company today; who sells nothing is left out. One query."""
    today = local_today(company)
    prices = prices_on(today, Price.objects.of(company).select_related("supplier"))
    suppliers = {price.supplier_id: price.supplier for price in prices}
    return market_of(
        today=today,
        currency=company.currency,
        suppliers=sorted(suppliers.values(), key=lambda row: (row.name, row.pk)),
        prices=prices,
    )


@dataclass(frozen=True, slots=True)
class PriceShown:
    """One pack's price in words."""

    material: str
    pack: str
    price: Money
    breaks: tuple[tuple[int, Money], ...]
    minimum_packs: int
    valid_from: date
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class SupplierShown:
    """A supplier with today's prices, in catalogue order."""

    row: Supplier
    minimum: Money
    freight: Money
    prices: tuple[PriceShown, ...]


def price_page(company: Company) -> Sequence[SupplierShown]:
    """Return the company's suppliers with what each pack costs there today."""
    today = local_today(company)
    return [
        SupplierShown(
            row,
            Money(row.minimum_cents, company.currency),
            Money(row.freight_cents, company.currency),
            tuple(_shown(price, company.currency) for price in _of_today(row, today)),
        )
        for row in suppliers_of(company)
    ]


def _of_today(supplier: Supplier, today: date) -> list[Price]:
    newest: dict[tuple[str, str], Price] = {}
    for price in sorted(supplier.prices.all(), key=lambda price: price.valid_from):
        if price.valid_from <= today:
            newest[price.material, price.pack] = price
    place = {key: index for index, key in enumerate(load_catalogue().materials)}
    return sorted(newest.values(), key=lambda price: (place.get(price.material, 0), price.pack_size))


def _shown(price: Price, currency: str) -> PriceShown:
    material = load_catalogue().materials.get(price.material)
    names = {pack.label.key: pack.label.name for pack in material.packs} if material else {}
    return PriceShown(
        material=material.name if material else price.material,
        pack=names.get(price.pack, price.pack),
        price=Money(price.price_cents, currency),
        breaks=tuple((packs, Money(cents, currency)) for packs, cents in breaks_of(price)),
        minimum_packs=price.minimum_packs,
        valid_from=price.valid_from,
        grade=price.grade,
        source=price.source,
    )


def terms_of(price: Price) -> dict[str, Any]:
    """Return what a price says beside its pack and day, as an address can carry it."""
    return {name: getattr(price, name) for name in TERMS}


def price_of_day(supplier: Supplier, *, material: str, pack: str, valid_from: date) -> Price | None:
    """Return the price of a pack that holds from this day on, None where there is none of this day."""
    rows = Price.objects.of(supplier.company)
    return rows.filter(supplier=supplier, material=material, pack=pack, valid_from=valid_from).first()
