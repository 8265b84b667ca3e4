"""What came of an order and what is still to come, line by line."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from django.db.models import Prefetch, QuerySet

from materials.convert import pack_name
from materials.models import Delivery, DeliveryLine, OrderLine, PurchaseOrder
from materials.ordering.states import UNWANTED
from materials.selectors.orders import OrderShown, order_of
from projects.errors import NotThere
from projects.models import Company
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
class DeliveryShown:
    """A delivery with its order: the `place`-th of it, and whether more was `awaited` when it came.

    `before` are the good packs that came earlier, by the order line's id.
    """

    row: Delivery
    order: OrderShown
    place: int
    before: Mapping[int, int]
    awaited: bool


def delivery_of(company: Company, pk: int) -> DeliveryShown:
    """Return one delivery. Raises NotThere."""
    order = Delivery.objects.of(company).filter(pk=pk).values_list("order", flat=True).first()
    if order is None:
        raise NotThere
    shown = order_of(company, order)
    until = [each for each in deliveries_of(shown.row) if each.pk <= pk]
    before: Counter[int] = Counter()
    for earlier in until[:-1]:
        before.update({line.line_id: line.good for line in earlier.lines.all()})
    ended = any(event.kind in UNWANTED and event.at <= until[-1].at for event in shown.row.events.all())
    return DeliveryShown(until[-1], shown, place=len(until), before=before, awaited=not ended)


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
