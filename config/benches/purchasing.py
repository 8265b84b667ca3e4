"""How long a large week's purchasing takes, from the press to the drafts."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from django.db import transaction

from config.benches.figure import Figure
from config.benches.machine import Spent, spent
from config.benches.office import founded, project
from config.benches.windows import houses
from materials import services
from materials.catalogue.load import load_catalogue
from materials.selectors.demand import monday_of
from materials.selectors.orders import local_today
from projects.models import House, Membership
from projects.quantities.money import Money
from projects.selectors import elevations_of

SEED = 9
PER_HOUSE, SIZES = 20, 10
PLANS_EACH = 5
LONG_AGO = date(2026, 1, 1)
TRIES = 3


def measure(*, small: bool) -> Iterator[Figure]:
    """Order for ten projects of 20 houses, wanted on the five days of a week, from three suppliers.

    Each try is taken back, so that the next one finds the same week. Best of several.
    """
    projects, each = (1, 5) if small else (10, 20)
    by = founded()
    plans = houses(projects * PLANS_EACH, openings=PER_HOUSE, sizes=SIZES, seed=SEED)
    for number in range(projects):
        project(by, plans=[next(plans) for _ in range(PLANS_EACH)], houses=each, code=f"P{number}")
    monday = monday_of(local_today(by.company)) + timedelta(days=14)
    for number, house in enumerate(House.objects.of(by.company)):
        day = monday + timedelta(days=number % 5)
        services.set_need_dates(by=by, elevations=list(elevations_of(house)), day=day)
    _sell_everything(by)
    told = f"drafts of a week of {projects * each} houses, {projects * each * PER_HOUSE:,} openings"
    tries = [spent(_order, by, monday) for _ in range(1 if small else TRIES)]
    yield Figure.of_time(told, Spent.least(tries), 10)


def _order(by: Membership, monday: date) -> None:
    with transaction.atomic():
        if not services.make_drafts(by=by, week=monday).orders:
            raise ValueError("nothing was ordered")
        transaction.set_rollback(True)


def _sell_everything(by: Membership) -> None:
    """Let three suppliers sell the whole catalogue, each a little dearer than the one before."""
    packs = [(of.key, pack.label) for of in load_catalogue().materials.values() for pack in of.packs]
    priced = [(key, label.key, label.price.amount.cents) for key, label in packs if label.price]
    for number in range(3):
        supplier = services.set_supplier(by=by, supplier=None, code=f"S{number}", name=f"Supplier {number}")
        for material, pack, cents in priced:
            services.set_price(
                by=by,
                supplier=supplier,
                material=material,
                pack=pack,
                price=Money(cents + 7 * number),
                valid_from=LONG_AGO,
            )
