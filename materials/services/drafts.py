"""Draft orders: one per supplier for what a week needs and no order covers yet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from materials.errors import IssuedStays
from materials.models import Coverage, PurchaseOrder
from materials.ordering.plan import Loss, Shortage
from materials.selectors.demand import (
    monday_of,
    only,
    week_demand,
)
from materials.selectors.growth import growth_of
from materials.selectors.netting import net_openings
from materials.selectors.prices import market_today
from materials.services.making import Lack, lack_of, write_drafts
from materials.services.promises import promise, release
from projects.actors import Actor
from projects.models import House
from projects.problems import Problem
from projects.rights import Action, require
from projects.services.writing import hold, hold_company, record


@dataclass(frozen=True, slots=True)
class Drafts:
    """The drafts that were made, what could not be ordered, with the reason, and what of stock spoils."""

    orders: tuple[PurchaseOrder, ...]
    shortages: tuple[Shortage, ...]
    problems: tuple[Problem, ...]
    losses: tuple[Loss, ...] = ()


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
    lack = Lack(
        monday_of(week),
        only(demand.openings, netted.lacking),
        netted.wanted,
        netted.lacking,
        had={key: amount for key, amount in netted.given.items() if key in netted.lacking},
        rounds=dict.fromkeys(netted.given, 2),
    )
    orders, shortages = write_drafts(by=by, lack=lack)
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
    return Drafts(*write_drafts(by=by, lack=lack_of(order, growth_of(order))), ())


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
