"""Writing drafts: who sells what is wanted, one order each, and which openings it covers."""

from __future__ import annotations

import time
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Any

from materials.catalogue.load import load_catalogue
from materials.convert import inputs_hash, market_of, prices_on
from materials.errors import NoPrices
from materials.models import Coverage, OrderLine, Price, PurchaseOrder, Supplier
from materials.ordering.buying import Bought, Market, Wanted, buy
from materials.ordering.lacking import Amount
from materials.ordering.plan import PurchaseLine, Shortage
from materials.ordering.workdays import in_by
from materials.selectors.demand import Key, OpeningDemand, only
from materials.selectors.growth import Growth
from materials.selectors.inputs import inputs_of
from materials.selectors.orders import local_today
from materials.selectors.splices import laps_of
from openings.selectors import specifications_in_force
from openings.takeoff.compute import RULES_VERSION
from openings.takeoff.settings import as_json
from projects.actors import Actor
from projects.models import House
from projects.quantities.volume import Volume
from projects.services.writing import created

CUT_SECONDS = 1.0
OUR_YARD = "Our yard"


@dataclass(frozen=True, slots=True)
class Lack:
    """What is to be bought: for which openings, how much of it is whose, and what each of them has."""

    week: date
    openings: Sequence[OpeningDemand]
    wanted: Sequence[Wanted]
    amounts: Mapping[Key, Amount]
    had: Mapping[Key, Amount]
    rounds: Mapping[Key, int]


def lack_of(order: PurchaseOrder, growth: Growth) -> Lack:
    """Return what is to be bought for an order's openings as they stand now."""
    return Lack(
        order.week,
        only(growth.openings, growth.lacking),
        growth.wanted,
        growth.lacking,
        had=growth.had,
        rounds={key: last + 1 for key, last in growth.rounds.items()},
    )


def write_drafts(
    *, by: Actor, lack: Lack, changes: PurchaseOrder | None = None
) -> tuple[tuple[PurchaseOrder, ...], tuple[Shortage, ...]]:
    """Return one draft per supplier for what is wanted, and what nobody can bring in time or at all.

    A draft that `changes` an order goes to the same supplier, and covers nothing before it is issued.
    Raises NoPrices.
    """
    if not lack.wanted:
        return (), ()
    suppliers = {row.code: row for row in _sellers(by, changes)}
    today = local_today(by.company)
    prices = prices_on(today, Price.objects.of(by.company).filter(supplier__in=suppliers.values()))
    if not prices:
        raise NoPrices
    frame = {**_frame(by, lack.week, lack.openings), "changes": changes}
    market = market_of(today=today, currency=by.company.currency, suppliers=suppliers.values(), prices=prices)
    market = _in_our_guns(market, frame["specification"])
    laps = laps_of(by.company)
    wanted = [replace(one, lap=laps.get(one.material, 0)) for one in lack.wanted]
    bought = buy(wanted, market, seconds=CUT_SECONDS, clock=time.monotonic)
    orders = []
    for code, lines in _by_supplier(bought).items():
        supplier = suppliers[code]
        own = {
            "inputs": _inputs(
                by,
                lack,
                lines=lines,
                prices=[p for p in prices if p.supplier_id == supplier.pk],
                laps={one.material: one.lap for one in wanted if one.lap},
            ),
            "deliver_by": in_by(min(line.needed for line in lines), market.supplier(code)),
            "freight_cents": supplier.freight_cents,
        }
        order = _draft(by=by, supplier=supplier, lines=lines, frame={**frame, **own})
        _cover(by=by, order=order, lack=lack)
        orders.append(order)
    return tuple(orders), bought.shortages


def _sellers(by: Actor, changes: PurchaseOrder | None) -> Iterable[Supplier]:
    sellers = Supplier.objects.of(by.company)
    return sellers.filter(pk=changes.supplier_id) if changes else sellers


def _by_supplier(bought: Bought) -> dict[str, list[PurchaseLine]]:
    lines: dict[str, list[PurchaseLine]] = {}
    for line in sorted(bought.lines, key=lambda line: line.pack.supplier):
        lines.setdefault(line.pack.supplier, []).append(line)
    return lines


def _inputs(
    by: Actor,
    lack: Lack,
    *,
    lines: Iterable[PurchaseLine],
    prices: Iterable[Price],
    laps: Mapping[str, int],
) -> dict[str, Any]:
    """Return what an order's numbers come from: of what the supplier sells, what is ordered there."""
    ordered = {line.material for line in lines}
    return inputs_of(
        by.company,
        keys=[key for key in lack.amounts if key[1] in ordered],
        had=lack.had,
        prices=[price for price in prices if price.material in ordered],
        laps={material: lap for material, lap in laps.items() if material in ordered},
    )


def _in_our_guns(market: Market, specification: Any) -> Market:
    """Return the market without sealant in containers that the specified guns do not take.

    A case of the specified cartridge fits; where nothing on sale does, or the projects differ, all stay.
    """
    sizes = {
        Volume.fluid_ounces(Fraction(str(project["settings"]["cartridge_floz"]))).pl
        for project in specification.values()
    }
    sealant = {key for key, material in load_catalogue().materials.items() if material.meets == "sealant"}
    fitting = tuple(
        pack
        for pack in market.packs
        if pack.material not in sealant or any(pack.size % size == 0 for size in sizes)
    )
    if len(sizes) > 1 or not any(pack.material in sealant for pack in fitting):
        return market
    return replace(market, packs=fitting)


def _frame(by: Actor, week: date, openings: Sequence[OpeningDemand]) -> dict[str, object]:
    """Return what all drafts of one run share: week, place, and the versions that they come from."""
    codes = sorted({each.house for each in openings})
    houses = list(House.objects.of(by.company).select_related("project", "company").filter(code__in=codes))
    places = {house.project.delivery_place for house in houses}
    in_force = specifications_in_force(list({house.project for house in houses}))
    projects = {house.project.code: house.project for house in houses}
    specification = {
        code: {
            "version": in_force[project.pk].label,
            "settings": as_json(in_force[project.pk].specification),
        }
        for code, project in sorted(projects.items())
    }
    return {
        "week": week,
        "deliver_to": places.pop() if len(places) == 1 else by.company.yard or OUR_YARD,
        "currency": by.company.currency,
        "specification": specification,
        "project": next(iter(projects.values())) if len(projects) == 1 else None,
    }


def _draft(
    *, by: Actor, supplier: Supplier, lines: Sequence[PurchaseLine], frame: Mapping[str, Any]
) -> PurchaseOrder:
    order = PurchaseOrder.objects.create(
        company=by.company,
        supplier=supplier,
        total_cents=sum(line.total.cents for line in lines),
        rules_version=RULES_VERSION,
        input_hash=inputs_hash(frame["inputs"], RULES_VERSION),
        created_by=by.user,
        **frame,
    )
    catalogue = load_catalogue()
    OrderLine.objects.bulk_create(
        OrderLine(
            company=by.company,
            order=order,
            position=position,
            material=line.material,
            description=catalogue.material(line.material).name,
            need=line.quantity,
            unit=catalogue.material(line.material).unit,
            pack=line.pack.name,
            pack_size=line.pack.size,
            packs=line.packs,
            unit_price_cents=line.unit_price.cents,
            total_cents=line.total.cents,
        )
        for position, line in enumerate(lines, 1)
    )
    return created(order, by=by, action="make draft", shown=("week", "total_cents"))


def _cover(*, by: Actor, order: PurchaseOrder, lack: Lack) -> None:
    """Tie each opening's demand to the first line of its material."""
    first: dict[str, int] = {}
    for line in OrderLine.objects.of(by.company).filter(order=order).order_by("position"):
        first.setdefault(line.material, line.pk)
    Coverage.objects.bulk_create(
        [
            # by their keys: a week of 200 houses has tens of thousands of these
            Coverage(
                company_id=by.company.pk,
                line_id=first[material],
                opening_id=opening,
                material=material,
                round=lack.rounds.get((opening, material), 1),
                live=order.changes_id is None,
                quantity=amount.quantity,
                pieces={str(length): count for length, count in amount.pieces.items()},
            )
            for (opening, material), amount in lack.amounts.items()
            if material in first and amount.quantity
        ],
        batch_size=500,
    )
