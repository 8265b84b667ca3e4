"""What lies in stock or is still to come, and what of it is promised to whom."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from django.db.models import Exists, F, OuterRef, Q, Subquery, Sum

from materials.models import Coverage, MinimumLevel, Movement, OrderEvent, OrderLine
from materials.models import Lot as StockLot
from materials.ordering.lacking import Amount
from materials.ordering.problem import Delivery, Lot, Reserve
from materials.ordering.sharing import Supply, after_claims
from materials.ordering.shelf import ShelfRoll
from materials.ordering.states import ENDED
from materials.selectors.demand import Key
from materials.selectors.growth import amount_of
from projects.models import Company

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Promise:
    """What one opening was promised of a material, for a morning that is still to come.

    `order` is the number of the order that brings it, empty where stock does.
    """

    key: Key
    amount: Amount
    needed: date
    order: str


class LiveCover(NamedTuple):
    """One row that covers an opening's demand now; `line` is None where stock does.

    `day` is the opening's need date; `is_there`, whether it is still in its schedule.
    """

    key: Key
    amount: Amount
    line: int | None
    order: str
    day: date | None
    is_there: bool


class Level(NamedTuple):
    """How much of a material has to stay, and what of it no draft brings beyond what it covers."""

    quantity: int
    open: int


@dataclass(frozen=True, slots=True)
class OnHand:
    """What is left of one lot, all places together; `order` is the number of the order that it came with."""

    lot: int
    material: str
    quantity: int
    piece_size: int
    last_good: date | None
    order: str


@dataclass(frozen=True, slots=True)
class Shelf:
    """All that can be given away: by quantity, and in rolls to cut from; and what was promised of it.

    `covers` is all that covers anything now, `levels` how much of each material has to stay.
    """

    supply: Supply = field(default_factory=Supply)
    rolls: Mapping[str, tuple[ShelfRoll, ...]] = field(default_factory=dict)
    promises: tuple[Promise, ...] = ()
    covers: tuple[LiveCover, ...] = ()
    levels: Mapping[str, int] = field(default_factory=dict)

    def reserve_of(self, material: str) -> int:
        """Return how much of a material has to stay."""
        return sum(level.quantity for level in self.supply.reserves if level.material == material)


def shelf_of(company: Company, today: date) -> Shelf:
    """Return what is there or to come on `today` beyond what orders keep for their own openings.

    What an order brings is its openings' until their day has passed; rolls wholly, else as much as they need.
    """
    lots, used = _on_hand(company, today)
    covers = live_covers(company)
    promises, to_come = _standing(covers, used, today), _to_come(company, today)
    levels = minimum_levels(company)
    claims: dict[str, Counter[str]] = {}
    for promise in promises:
        if promise.order:
            claims.setdefault(promise.order, Counter())[promise.key[1]] += promise.amount.quantity
    supply = Supply(
        lots=tuple(Lot(lot.material, name_of(lot.lot), lot.quantity, lot.last_good) for lot in lots),
        deliveries=to_come,
        reserves=tuple(Reserve(key, level.open) for key, level in levels.items() if level.open > 0),
    )
    sources = {name_of(lot.lot): lot.order for lot in lots if lot.order}
    rolls: dict[str, list[ShelfRoll]] = {}
    for lot in lots:
        if not claims.get(lot.order, Counter())[lot.material]:
            roll = ShelfRoll(name_of(lot.lot), lot.piece_size, lot.quantity // lot.piece_size, lot.last_good)
            rolls.setdefault(lot.material, []).append(roll)
    return Shelf(
        after_claims(supply, claims, sources),
        {material: tuple(found) for material, found in rolls.items()},
        tuple(promise for promise in promises if not promise.order),
        covers,
        {key: level.quantity for key, level in levels.items()},
    )


def name_of(lot: int) -> str:
    """Return how the netting tells a lot from others, and from the numbers of orders."""
    return f"lot {lot}"


def lot_numbers(company: Company, names: Collection[str]) -> dict[str, str]:
    """Return how people know each lot that the netting names: by the number on its packs."""
    if not names:
        return {}
    rows = StockLot.objects.of(company).order_by().values_list("pk", "number")
    return {
        name_of(pk): f"lot {number}" if number else "a lot without a number"
        for pk, number in rows
        if name_of(pk) in names
    }


def _on_hand(company: Company, today: date) -> tuple[list[OnHand], Counter[str]]:
    """Return what is left of each lot, and how much of each material was used `today`."""
    rows = (
        Movement.objects.of(company)
        .order_by()
        .values("lot", "lot__material", "lot__piece_size", "lot__last_good", "lot__line__order__number")
        .annotate(total=Sum("quantity"), used=Sum("quantity", filter=_used_on(company, today)))
        .filter(Q(total__gt=0) | Q(used__lt=0))
    )
    used: Counter[str] = Counter()
    for row in rows:
        used[row["lot__material"]] -= row["used"] or 0
    found = [
        OnHand(
            row["lot"],
            row["lot__material"],
            row["total"],
            row["lot__piece_size"],
            row["lot__last_good"],
            row["lot__line__order__number"] or "",
        )
        for row in rows
        if row["total"] > 0
    ]
    return found, used


def _to_come(company: Company, today: date) -> tuple[Delivery, ...]:
    """Return what issued orders still bring, by order and material; what is overdue may come today."""
    ended = OrderEvent.objects.of(company).filter(order=OuterRef("order"), kind__in=ENDED)
    open_lines = (
        OrderLine.objects.of(company)
        .filter(order__number__isnull=False)
        .exclude(Exists(ended))
        .annotate(received=_received(company))
        .values(
            *("material", "packs", "pack_size", "received"),
            *("order__number", "order__deliver_by", "order__week"),
        )
        .order_by("order__deliver_by", "pk")
    )
    found: dict[tuple[str, str], Delivery] = {}
    for row in open_lines:
        left = max(0, row["packs"] * row["pack_size"] - (row["received"] or 0))
        number = row["order__number"] or ""
        key = (number, row["material"])
        due = max(row["order__deliver_by"] or row["order__week"], today)
        before = found.get(key, Delivery(row["material"], number, 0, due))
        found[key] = replace(before, quantity=before.quantity + left)
    return tuple(delivery for delivery in found.values() if delivery.quantity)


def minimum_levels(company: Company) -> dict[str, Level]:
    """Return what has to stay, by material; what drafts bring too much stays already. One query."""
    drafted = OrderLine.objects.of(company).filter(
        material=OuterRef("material"), order__number__isnull=True, order__changes__isnull=True
    )
    bought = drafted.order_by().values("material").annotate(total=Sum(F("packs") * F("pack_size")))
    kept = Coverage.objects.of(company).filter(
        live=True,
        line__material=OuterRef("material"),
        line__order__number__isnull=True,
        line__order__changes__isnull=True,
    )
    covered = kept.order_by().values("line__material").annotate(total=Sum("quantity"))
    rows = MinimumLevel.objects.of(company).annotate(
        bought=Subquery(bought.values("total")), kept=Subquery(covered.values("total"))
    )
    return {
        row["material"]: Level(
            row["quantity"], row["quantity"] - max(0, (row["bought"] or 0) - (row["kept"] or 0))
        )
        for row in rows.values("material", "quantity", "bought", "kept")
    }


def _received(company: Company) -> Subquery:
    """Return how much of an order line was received, for a query of lines."""
    received = Movement.objects.of(company).filter(kind="receive", lot__line=OuterRef("pk")).order_by()
    return Subquery(received.values("lot__line").annotate(total=Sum("quantity")).values("total"))


def received_of(company: Company, lines: Iterable[int]) -> Counter[int]:
    """Return how much of each order line was received, in base units."""
    rows = (
        Movement.objects.of(company)
        .filter(kind="receive", lot__line__in=list(lines))
        .order_by()
        .values_list("lot__line")
        .annotate(total=Sum("quantity"))
    )
    return Counter(dict(rows))


def standing_promises(company: Company, today: date) -> tuple[Promise, ...]:
    """Return what issued orders and stock have promised for today and later; drafts bring what they promise.

    What was used today has kept its promise. An opening without a day is still to come; a removed one is not.
    """
    return _standing(live_covers(company), _on_hand(company, today)[1], today)


def live_covers(company: Company) -> tuple[LiveCover, ...]:
    """Return all that covers anything now, the oldest first. One query."""
    rows = Coverage.objects.of(company).filter(live=True).order_by("pk")
    return tuple(
        LiveCover((opening, material), amount_of(quantity, pieces), line, order or "", day, removed is None)
        for opening, material, quantity, pieces, line, order, day, removed in rows.values_list(
            "opening",
            "material",
            "quantity",
            "pieces",
            "line",
            "line__order__number",
            "opening__elevation__need_date__date",
            "opening__removed_at",
        )
    )


def _standing(covers: Iterable[LiveCover], used_today: Counter[str], today: date) -> tuple[Promise, ...]:
    used = used_today.copy()
    found = []
    for cover in covers:
        is_draft = cover.line is not None and not cover.order
        needed = cover.day or today + ONE_DAY
        if is_draft or not cover.is_there or needed < today:
            continue
        material, quantity = cover.key[1], cover.amount.quantity
        kept = min(quantity, used[material]) if needed == today else 0
        used[material] -= kept
        if kept < quantity:
            amount = replace(cover.amount, quantity=quantity - kept)
            found.append(Promise(cover.key, amount, needed, cover.order))
    return tuple(found)


def _used_on(company: Company, day: date) -> Q:
    zone = ZoneInfo(company.time_zone)
    first = datetime.combine(day, time.min, zone)
    return Q(kind="use", at__gte=first, at__lt=datetime.combine(day + ONE_DAY, time.min, zone))
