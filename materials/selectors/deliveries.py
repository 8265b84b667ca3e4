"""What came of an order and what is still to come, line by line."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.db.models import Prefetch, QuerySet

from materials.convert import pack_name
from materials.models import Delivery, DeliveryLine, OrderLine, PurchaseOrder
from projects.quantities.money import Money


@dataclass(frozen=True, slots=True)
class LineToCome:
    """One order line in packs: ordered, good ones that came, damaged and wrong ones, and what is to come."""

    row: OrderLine
    pack: str
    came: int
    damaged: int
    wrong: int

    @property
    def to_come(self) -> int:
        """Return how many packs are still to come."""
        return max(0, self.row.packs - self.came)

    @property
    def over(self) -> int:
        """Return how many came beyond what was ordered."""
        return max(0, self.came - self.row.packs)


def lines_to_come(
    order: PurchaseOrder, deliveries: Iterable[Delivery] | None = None
) -> tuple[LineToCome, ...]:
    """Return an order's lines in their order, each with what came; `deliveries` are read where not given."""
    came: dict[int, Counter[str]] = {}
    for row in _delivered(order, deliveries):
        packs = {"good": row.good, "damaged": row.damaged, "wrong": row.wrong}
        came.setdefault(row.line_id, Counter()).update(packs)
    lines = sorted(order.lines.all(), key=lambda line: line.position)
    return tuple(
        LineToCome(line, pack_name(line), sums["good"], sums["damaged"], sums["wrong"])
        for line in lines
        for sums in [came.get(line.pk, Counter())]
    )


def _delivered(order: PurchaseOrder, deliveries: Iterable[Delivery] | None) -> Iterable[DeliveryLine]:
    if deliveries is None:
        return DeliveryLine.objects.of(order.company).filter(delivery__order=order).select_related("line")
    return [row for delivery in deliveries for row in delivery.lines.all()]


def deliveries_of(order: PurchaseOrder) -> list[Delivery]:
    """Return an order's deliveries with their lines, the first to come first."""
    lines: QuerySet[DeliveryLine] = DeliveryLine.objects.of(order.company).select_related("line", "lot")
    rows = Delivery.objects.of(order.company).filter(order=order).select_related("by").order_by("id")
    return list(rows.prefetch_related(Prefetch("lines", queryset=lines.order_by("id"))))


@dataclass(frozen=True, slots=True)
class PriceDifference:
    """Packs that the delivery note asks another price for than the order: `more` in all, below 0 for less."""

    row: OrderLine
    packs: int
    ordered: Money
    asked: Money
    more: Money


def differences_of(
    order: PurchaseOrder, deliveries: Iterable[Delivery] | None = None
) -> tuple[PriceDifference, ...]:
    """Return where a delivery note's price differs from the order's, in the order of its lines."""
    rows = sorted(_delivered(order, deliveries), key=lambda row: (row.line.position, row.pk))
    return tuple(
        PriceDifference(
            row=row.line,
            packs=row.good,
            ordered=Money(row.line.unit_price_cents, order.currency),
            asked=Money(row.price_cents, order.currency),
            more=Money((row.price_cents - row.line.unit_price_cents) * row.good, order.currency),
        )
        for row in rows
        if row.price_cents is not None and row.price_cents != row.line.unit_price_cents
    )


def over_in(delivery: Delivery) -> Iterator[tuple[str, int]]:
    """Yield the materials of which this delivery brought more than was ordered, and how many packs more."""
    rows = DeliveryLine.objects.of(delivery.company).filter(delivery=delivery)
    own = {row.line_id: row.good for row in rows}
    for line in lines_to_come(delivery.order):
        over = min(line.over, own.get(line.row.pk, 0))
        if over:
            yield line.row.description, over
