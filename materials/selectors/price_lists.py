"""A price list as it would be loaded, and today's prices as a list to fill in."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from materials.catalogue.load import load_catalogue
from materials.convert import breaks_of, prices_on
from materials.models import Price, Supplier
from materials.pricelist.compare import Compared, Told, compare
from materials.pricelist.read import PriceList
from materials.pricelist.terms import write_breaks
from materials.selectors.orders import local_today
from projects.exports import inert
from projects.quantities.money import Money


@dataclass(frozen=True, slots=True)
class PriceRow:
    """One row of the preview in words."""

    row: int
    material: str
    pack: str
    day: date
    before: Money | None
    price: Money
    breaks: str
    standing: str


def compared(supplier: Supplier, listed: PriceList) -> tuple[Compared, ...]:
    """Return the list beside what the supplier's packs cost now; prices without a day hold from today on."""
    known: dict[tuple[str, str], list[tuple[date, Told]]] = {}
    for row in Price.objects.of(supplier.company).filter(supplier=supplier):
        known.setdefault((row.material, row.pack), []).append(
            (row.valid_from, (row.price_cents, breaks_of(row)))
        )
    return compare(listed.prices, known, otherwise=local_today(supplier.company))


def rows_of(supplier: Supplier, prices: Iterable[Compared]) -> list[PriceRow]:
    """Return the prices as the preview shows them."""
    catalogue, currency = load_catalogue(), supplier.company.currency
    found = []
    for each in prices:
        material = catalogue.material(each.listed.material)
        found.append(
            PriceRow(
                row=each.listed.row,
                material=material.name,
                pack=material.pack(each.listed.pack).label.name,
                day=each.day,
                before=None if each.before is None else Money(each.before[0], currency),
                price=Money(each.listed.cents, currency),
                breaks=write_breaks(each.listed.breaks),
                standing=each.standing,
            )
        )
    return found


def list_of(supplier: Supplier) -> str:
    """Return the supplier's prices of today as CSV; packs that it does not sell yet stand without a price."""
    today = local_today(supplier.company)
    rows = prices_on(today, Price.objects.of(supplier.company).filter(supplier=supplier))
    now = {(row.material, row.pack): row for row in rows}
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(["material", "pack", "from packs", "price", "valid from", "source"])
    for key, material in load_catalogue().materials.items():
        for pack in material.packs:
            for told in _told(now.get((key, pack.label.key))):
                writer.writerow([inert(text) for text in (material.name, pack.label.name, *told)])
    return out.getvalue()


def _told(price: Price | None) -> Iterator[tuple[str, str, str, str]]:
    if price is None:
        yield "", "", "", ""
        return
    for packs, cents in ((1, price.price_cents), *breaks_of(price)):
        yield str(packs), Money(cents).as_text, price.valid_from.isoformat(), price.source
