"""What lies in stock or is still to come, and what of it is promised to whom."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.db.models import Exists, F, OuterRef, Sum

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
    """All that can be given away: by quantity, and in rolls to cut from; and what was promised of it."""

    supply: Supply = field(default_factory=Supply)
    rolls: Mapping[str, tuple[ShelfRoll, ...]] = field(default_factory=dict)
    promises: tuple[Promise, ...] = ()

    def reserve_of(self, material: str) -> int:
        """Return how much of a material has to stay."""
        return sum(level.quantity for level in self.supply.reserves if level.material == material)


def shelf_of(company: Company, today: date) -> Shelf:
    """Return what is there or to come on `today` beyond what orders keep for their own openings.

    What an order brings is its openings' until their day has passed; rolls wholly, else as much as they need.
    """
    promises = standing_promises(company, today)
    lots, to_come = _on_hand(company), _to_come(company, today)
    claims: dict[str, Counter[str]] = {}
    for promise in promises:
        if promise.order:
            claims.setdefault(promise.order, Counter())[promise.key[1]] += promise.amount.quantity
    supply = Supply(
        lots=tuple(Lot(lot.material, name_of(lot.lot), lot.quantity, lot.last_good) for lot in lots),
        deliveries=to_come,
        reserves=_reserves(company),
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


def _on_hand(company: Company) -> list[OnHand]:
    rows = (
        Movement.objects.of(company)
        .order_by()
        .values("lot", "lot__material", "lot__piece_size", "lot__last_good", "lot__line__order__number")
        .annotate(total=Sum("quantity"))
        .filter(total__gt=0)
    )
    return [
        OnHand(
            row["lot"],
            row["lot__material"],
            row["total"],
            row["lot__piece_size"],
            row["lot__last_good"],
            row["lot__line__order__number"] or "",
        )
        for row in rows
    ]


def _to_come(company: Company, today: date) -> tuple[Delivery, ...]:
    """Return what issued orders still bring, by order and material; what is overdue may come today."""
    ended = OrderEvent.objects.of(company).filter(order=OuterRef("order"), kind__in=ENDED)
    open_lines = (
        OrderLine.objects.of(company)
        .filter(order__number__isnull=False)
        .exclude(Exists(ended))
        .values("pk", "material", "packs", "pack_size", "order__number", "order__deliver_by", "order__week")
        .order_by("order__deliver_by", "pk")
    )
    came = received_of(company, [row["pk"] for row in open_lines])
    found: dict[tuple[str, str], Delivery] = {}
    for row in open_lines:
        left = max(0, row["packs"] * row["pack_size"] - came[row["pk"]])
        number = row["order__number"] or ""
        key = (number, row["material"])
        due = max(row["order__deliver_by"] or row["order__week"], today)
        before = found.get(key, Delivery(row["material"], number, 0, due))
        found[key] = replace(before, quantity=before.quantity + left)
    return tuple(delivery for delivery in found.values() if delivery.quantity)


def _reserves(company: Company) -> tuple[Reserve, ...]:
    """Return what has to stay beyond what drafts bring too much: one reserve is bought once."""
    levels = {level.material: level.quantity for level in MinimumLevel.objects.of(company)}
    if not levels:
        return ()
    drafted = OrderLine.objects.of(company).filter(
        order__number__isnull=True, order__changes__isnull=True, material__in=levels
    )
    spare = Counter(
        dict(drafted.order_by().values_list("material").annotate(total=Sum(F("packs") * F("pack_size"))))
    )
    kept = Coverage.objects.of(company).filter(live=True, line__in=drafted).order_by()
    spare.subtract(dict(kept.values_list("material").annotate(total=Sum("quantity"))))
    left = {material: quantity - max(0, spare[material]) for material, quantity in levels.items()}
    return tuple(Reserve(material, quantity) for material, quantity in left.items() if quantity > 0)


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
    rows = (
        Coverage.objects.of(company)
        .filter(live=True, opening__removed_at__isnull=True)
        .exclude(line__isnull=False, line__order__number__isnull=True)
        .values_list(
            "opening",
            "material",
            "quantity",
            "pieces",
            "opening__elevation__need_date__date",
            "line__order__number",
        )
        .order_by("pk")
    )
    used = _used_on(company, today)
    found = []
    for opening, material, quantity, pieces, day, order in rows:
        needed = day or today + ONE_DAY
        if needed < today:
            continue
        kept = min(quantity, used[material]) if needed == today else 0
        used[material] -= kept
        if kept < quantity:
            amount = amount_of(quantity - kept, pieces)
            found.append(Promise((opening, material), amount, needed, order or ""))
    return tuple(found)


def _used_on(company: Company, day: date) -> Counter[str]:
    zone = ZoneInfo(company.time_zone)
    first = datetime.combine(day, time.min, zone)
    rows = (
        Movement.objects.of(company)
        .filter(kind="use", at__gte=first, at__lt=datetime.combine(day + ONE_DAY, time.min, zone))
        .order_by()
        .values_list("lot__material")
        .annotate(total=Sum("quantity"))
    )
    return Counter({material: -total for material, total in rows})
