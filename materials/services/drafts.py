"""Draft orders: one per supplier for what a week needs and no order covers yet."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Any

from django.db import transaction

from materials.catalogue.load import load_catalogue
from materials.convert import inputs_hash, prices_on
from materials.errors import IssuedStays, NoPrices
from materials.models import Coverage, OrderLine, Price, PurchaseOrder, Supplier
from materials.ordering.buying import Market, Wanted, buy
from materials.ordering.lacking import Amount
from materials.ordering.plan import Loss, PurchaseLine, Shortage
from materials.ordering.workdays import in_by
from materials.selectors.demand import (
    Key,
    OpeningDemand,
    monday_of,
    only,
    week_demand,
)
from materials.selectors.growth import growth_of
from materials.selectors.inputs import inputs_of
from materials.selectors.netting import net_openings
from materials.selectors.orders import local_today
from materials.selectors.prices import market_today
from materials.services.promises import promise, release
from openings.selectors import specifications_in_force
from openings.takeoff.compute import RULES_VERSION
from openings.takeoff.settings import as_json
from projects.actors import Actor
from projects.models import House
from projects.problems import Problem
from projects.quantities.volume import Volume
from projects.rights import Action, require
from projects.services.writing import created, hold, hold_company, record

CUT_SECONDS = 1.0
OUR_YARD = "Our yard"


@dataclass(frozen=True, slots=True)
class Drafts:
    """The drafts that were made, what could not be ordered, with the reason, and what of stock spoils."""

    orders: tuple[PurchaseOrder, ...]
    shortages: tuple[Shortage, ...]
    problems: tuple[Problem, ...]
    losses: tuple[Loss, ...] = ()


@dataclass(frozen=True, slots=True)
class _Lack:
    """What is to be bought: for which openings, how much of it is whose, and what each of them has."""

    week: date
    openings: Sequence[OpeningDemand]
    wanted: Sequence[Wanted]
    amounts: Mapping[Key, Amount]
    had: Mapping[Key, Amount]
    rounds: Mapping[Key, int]


@transaction.atomic
def make_drafts(*, by: Actor, week: date, houses: Sequence[House] | None = None) -> Drafts:
    """Return new drafts, one per supplier, for demand of the week that nothing covers yet.

    Stock and open deliveries give first, in date order, and promise what they give. What is covered already
    is left alone, so a second call makes nothing. Raises NoPrices.
    """
    require(by, Action.ISSUE_ORDERS, *(houses or []))
    hold_company(by)
    demand = week_demand(by.company, week, houses)
    netted = net_openings(by.company, demand.openings, market_today(by.company))
    promise(by=by, netted=netted)
    lack = _Lack(
        monday_of(week),
        only(demand.openings, netted.lacking),
        netted.wanted,
        netted.lacking,
        had={key: amount for key, amount in netted.given.items() if key in netted.lacking},
        rounds=dict.fromkeys(netted.given, 2),
    )
    orders, shortages = _order(by=by, lack=lack)
    return Drafts(orders, (*netted.shortages, *shortages), demand.problems, netted.losses)


@transaction.atomic
def order_difference(*, by: Actor, order: PurchaseOrder) -> Drafts:
    """Return drafts for what an issued order's openings need beyond it, none where its packs suffice.

    A draft has no difference: it is discarded and made again.
    """
    require(by, Action.ISSUE_ORDERS, order)
    hold_company(by)
    if order.number is None:
        return Drafts((), (), ())
    growth = growth_of(order)
    lack = _Lack(
        order.week,
        only(growth.openings, growth.lacking),
        growth.wanted,
        growth.lacking,
        had=growth.had,
        rounds={key: last + 1 for key, last in growth.rounds.items()},
    )
    return Drafts(*_order(by=by, lack=lack), ())


@transaction.atomic
def discard_draft(*, by: Actor, order: PurchaseOrder) -> None:
    """Take a draft away; what it covered is open again. Raises IssuedStays."""
    require(by, Action.ISSUE_ORDERS, order)
    held = hold(order)
    if held.number is not None:
        raise IssuedStays(number=held.number)
    record(by=by, action="discard draft", subject=held, before={"total_cents": held.total_cents})
    covers = Coverage.objects.of(by.company).filter(line__order=held)
    keys = set(covers.values_list("opening", "material"))
    covers.delete()
    release(by=by, keys=keys)
    held.lines.all().delete()
    held.delete()


def _order(*, by: Actor, lack: _Lack) -> tuple[tuple[PurchaseOrder, ...], tuple[Shortage, ...]]:
    if not lack.wanted:
        return (), ()
    suppliers = {row.code: row for row in Supplier.objects.of(by.company)}
    prices = prices_on(local_today(by.company), Price.objects.of(by.company))
    if not prices:
        raise NoPrices
    market = market_today(by.company)
    frame = _frame(by, lack.week, lack.openings)
    market = _in_our_guns(market, frame["specification"])
    bought = buy(lack.wanted, market, seconds=CUT_SECONDS, clock=time.monotonic)
    lines: dict[str, list[PurchaseLine]] = {}
    for line in bought.lines:
        lines.setdefault(line.pack.supplier, []).append(line)
    orders = []
    for code in sorted(lines):
        ordered = {line.material for line in lines[code]}
        inputs = inputs_of(
            by.company,
            keys=[key for key in lack.amounts if key[1] in ordered],
            had=lack.had,
            prices=[p for p in prices if p.supplier_id == suppliers[code].pk and p.material in ordered],
        )
        due = in_by(min(line.needed for line in lines[code]), market.supplier(code))
        own = {**frame, "inputs": inputs, "deliver_by": due}
        order = _draft(by=by, supplier=suppliers[code], lines=lines[code], frame=own)
        _cover(by=by, order=order, lack=lack)
        orders.append(order)
    return tuple(orders), bought.shortages


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


def _cover(*, by: Actor, order: PurchaseOrder, lack: _Lack) -> None:
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
                quantity=amount.quantity,
                pieces={str(length): count for length, count in amount.pieces.items()},
            )
            for (opening, material), amount in lack.amounts.items()
            if material in first and amount.quantity
        ],
        batch_size=500,
    )
