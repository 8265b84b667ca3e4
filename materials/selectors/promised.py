"""What of stock and open orders is kept for which house and day."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date

from materials.catalogue.load import load_catalogue
from materials.selectors.orders import local_today
from materials.selectors.supply import standing_promises
from materials.selectors.telling import told_quantity
from openings.models import Opening
from projects.models import Company


@dataclass(frozen=True, slots=True)
class Kept:
    """So much of a material for a house, from stock or from an order by its number."""

    house: str
    material: str
    quantity: str
    source: str


@dataclass(frozen=True, slots=True)
class KeptDay:
    """What is kept for one day, by house and in catalogue order."""

    day: date
    kept: tuple[Kept, ...]


def promised_days(company: Company) -> tuple[KeptDay, ...]:
    """Return what is kept for today and later, the first day first."""
    promises = standing_promises(company, local_today(company))
    houses = dict(
        Opening.objects.of(company)
        .filter(pk__in={promise.key[0] for promise in promises})
        .values_list("pk", "house__code")
    )
    sums: Counter[tuple[date, str, str, str]] = Counter()
    for promise in promises:
        opening, material = promise.key
        sums[promise.needed, houses[opening], material, promise.order] += promise.amount.quantity
    catalogue = load_catalogue()
    place = {key: index for index, key in enumerate(catalogue.materials)}
    days: dict[date, list[Kept]] = {}
    for day, house, key, order in sorted(sums, key=lambda row: (*row[:2], place.get(row[2], 0), row[3])):
        of = catalogue.material(key)
        quantity = told_quantity(of.unit, sums[day, house, key, order])
        source = f"order {order}" if order else "stock"
        days.setdefault(day, []).append(Kept(house, of.name, quantity, source))
    return tuple(KeptDay(day, tuple(kept)) for day, kept in days.items())
