"""One house with two windows, its supplier and its week: what every test of orders starts from.

All settings are the defaults, method B1. The catalogue's own prices hold. Worked by hand in `test_golden.py`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from materials import services
from materials.catalogue.load import load_catalogue
from materials.convert import content_hash_of
from materials.models import PurchaseOrder, Supplier
from materials.selectors.demand import monday_of
from materials.selectors.orders import local_today
from openings import services as openings
from openings.convert import opening_input
from openings.models import Opening
from projects.models import House, Membership
from projects.quantities.length import Length
from projects.quantities.money import Money
from projects.selectors import elevations_of
from tests.factories.houses import HouseFactory

SCHEDULE = b"""elevation,mark,unit_width,unit_height
Front,W1,36,60
Front,W2,24,36
"""
SOLD = (
    "membrane-9in",
    "membrane-12in",
    "wrb-tape-3in",
    "foam",
    "pan-corner",
    "screw-2in",
    "sealant",
    "shims",
)
LONG_AGO = date(2026, 1, 1)


@dataclass(frozen=True)
class Site:
    """A house that is wanted on the Tuesday of a week to come, and the one supplier of all it needs."""

    by: Membership
    house: House
    supplier: Supplier
    monday: date

    @property
    def tuesday(self) -> date:
        return self.monday + timedelta(days=1)

    def opening(self, mark: str) -> Opening:
        return Opening.objects.select_related("elevation", "house", "company").get(
            house=self.house, mark=mark, removed_at=None
        )

    def draft(self) -> PurchaseOrder:
        (order,) = services.make_drafts(by=self.by, week=self.monday).orders
        return order

    def issued(self) -> PurchaseOrder:
        return issue(self.draft(), by=self.by)

    def widen(self, mark: str, inches: int) -> None:
        """Make a window as wide as this, its RO 1/2 in wider."""
        self.change(
            mark, unit_width=Length.inches(inches), ro_width=Length.inches(inches) + Length.inches(0.5)
        )

    def change(self, mark: str, **values: Any) -> None:
        row = self.opening(mark)
        openings.edit_opening(
            by=self.by, opening=row, version=None, value=replace(opening_input(row), **values)
        )


def build(by: Membership, *, code: str = "LOT-1", schedule: bytes = SCHEDULE) -> Site:
    """Return the house, wanted; the company's supplier and prices are made where there are none."""
    house = HouseFactory(project__company=by.company, code=code)
    sent = openings.start_import(by=by, house=house, file_name="lot.csv", content=schedule)
    openings.confirm_import(by=by, schedule_import=sent)
    monday = monday_of(local_today(by.company)) + timedelta(days=21)
    site = Site(by, house, Supplier.objects.of(by.company).first() or sell_everything(by), monday)
    services.set_need_dates(by=by, elevations=list(elevations_of(house)), day=site.tuesday)
    return site


def sell_everything(by: Membership, supplier: Supplier | None = None) -> Supplier:
    """Return a supplier of what the house needs, at the catalogue's prices; a new one where none is given."""
    if supplier is None:
        supplier = services.set_supplier(
            by=by, supplier=None, code="THISTLE", name="Thistle Supply", lead_days=2
        )
    for key in SOLD:
        for pack in load_catalogue().material(key).packs:
            set_price(by, supplier, key, pack.label.key, pack.label.price.amount)
    return supplier


def set_price(
    by: Membership,
    supplier: Supplier,
    material: str,
    pack: str,
    price: Money,
    valid_from: date = LONG_AGO,
) -> None:
    services.set_price(
        by=by, supplier=supplier, material=material, pack=pack, price=price, valid_from=valid_from
    )


def seen(order: PurchaseOrder) -> str:
    """Return what the page of the order tells its form."""
    return content_hash_of(order, order.lines.all())


def issue(order: PurchaseOrder, *, by: Membership, key: str = "form-1") -> PurchaseOrder:
    return services.issue_order(by=by, order=order, key=key, seen=seen(order))


def bought(order: PurchaseOrder) -> dict[str, tuple[int, str, str]]:
    """Return packs, pack and money by material."""
    return {
        line.material: (line.packs, line.pack, Money(line.total_cents).as_text) for line in order.lines.all()
    }
