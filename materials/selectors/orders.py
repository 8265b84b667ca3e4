"""Reading orders: lists, and one order with its lines and state."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Prefetch, QuerySet

from materials.convert import content_hash_of, pack_name, state_of, supplier_value
from materials.models import Coverage, OrderEvent, OrderLine, PurchaseOrder, Supplier
from materials.ordering.states import ACKNOWLEDGED, CANCELLED, CHANGED, ENDED, UNWANTED, may_follow
from materials.ordering.workdays import order_by as ordered_by
from projects.errors import NotThere
from projects.models import Company
from projects.quantities.money import Money
from projects.selectors import local_time, local_today  # noqa: F401  # the company's clock is read here too


@dataclass(frozen=True, slots=True)
class LineShown:
    """One line as people read it: the row, its pack in words, its money."""

    row: OrderLine
    pack: str
    unit_price: Money
    total: Money


@dataclass(frozen=True, slots=True)
class OrderShown:
    """An order with its lines, state and total; `missing` is what it lacks to the supplier's minimum.

    `order_by` is the last day on which a draft still comes in time.
    """

    row: PurchaseOrder
    state: str
    lines: tuple[LineShown, ...]
    total: Money
    freight: Money
    missing: Money
    houses: tuple[str, ...]
    order_by: date | None

    @property
    def is_late(self) -> bool:
        """Return whether a draft's last day to order has passed."""
        return self.order_by is not None and self.order_by < local_today(self.row.company)

    @property
    def can_cut(self) -> bool:
        """Return whether strips are cut from what it brings."""
        return self.state not in UNWANTED and any(line.row.unit == "length" for line in self.lines)

    @property
    def is_ended(self) -> bool:
        """Return whether nothing more is expected of it."""
        return self.state in ENDED

    @property
    def payable(self) -> Money:
        """Return the lines with freight."""
        return self.total + self.freight

    @property
    def can_change(self) -> bool:
        """Return whether another order can take its place."""
        return may_follow(self.state, CHANGED)

    @property
    def can_cancel(self) -> bool:
        """Return whether what is still to come of it can be cancelled."""
        return may_follow(self.state, CANCELLED)

    @property
    def can_acknowledge(self) -> bool:
        """Return whether the supplier's word on it is still to come."""
        return may_follow(self.state, ACKNOWLEDGED)

    @property
    def is_draft(self) -> bool:
        """Return whether it can still be issued or discarded."""
        return self.row.number is None


def suppliers_of(company: Company) -> Sequence[Supplier]:
    """Return the company's suppliers with their prices, by name."""
    return list(Supplier.objects.of(company).prefetch_related("prices"))


def orders_of(
    company: Company, *, week: date | None = None, project: int | None = None
) -> tuple[OrderShown, ...]:
    """Return orders and drafts, newest week first, at most 200."""
    rows = PurchaseOrder.objects.of(company)
    if week is not None:
        rows = rows.filter(week=week)
    if project is not None:
        rows = rows.filter(lines__covers__opening__house__project=project).distinct()
    return _shown(company, list(_fetched(rows)[:200]))


def order_of(company: Company, pk: int) -> OrderShown:
    """Return one order. Raises NotThere."""
    rows = list(_fetched(PurchaseOrder.objects.of(company).filter(pk=pk)))
    if not rows:
        raise NotThere
    return _shown(company, rows)[0]


def changed_by(order: PurchaseOrder) -> PurchaseOrder | None:
    """Return the order or draft that takes the place of `order`, None without."""
    return PurchaseOrder.objects.of(order.company).filter(changes=order).first()


def houses_of(company: Company, orders: Sequence[PurchaseOrder]) -> Mapping[int, set[str]]:
    """Return the codes of the houses that each order covers something of, by the order's id."""
    houses: dict[int, set[str]] = {}
    pairs = Coverage.objects.of(company).filter(line__order__in=orders)
    for order, code in pairs.values_list("line__order", "opening__house__code").distinct():
        houses.setdefault(order, set()).add(code)
    return houses


def has_changed(order: PurchaseOrder) -> bool:
    """Return whether an issued order is no longer what was sent: it never may be."""
    return order.number is not None and content_hash_of(order, order.lines.all()) != order.content_hash


def _fetched(rows: QuerySet[PurchaseOrder]) -> QuerySet[PurchaseOrder]:
    lines: QuerySet[OrderLine] = OrderLine.objects.order_by("position")
    events: QuerySet[OrderEvent] = OrderEvent.objects.order_by("id").select_related("by")
    related = rows.select_related("company", "supplier", "project", "issued_by", "changes")
    fetched = related.prefetch_related(
        Prefetch("lines", queryset=lines),
        Prefetch("events", queryset=events),
        Prefetch("changes__lines", queryset=lines),
    )
    return fetched.order_by("-week", "supplier__name", "pk")


def _shown(company: Company, rows: Sequence[PurchaseOrder]) -> tuple[OrderShown, ...]:
    houses = houses_of(company, rows)
    return tuple(
        OrderShown(
            row=row,
            state=state_of(row, row.events.all()),
            lines=tuple(_line(row, line) for line in row.lines.all()),
            total=Money(row.total_cents, row.currency),
            freight=Money(row.freight_cents, row.currency),
            missing=Money(max(0, row.supplier.minimum_cents - row.total_cents), row.currency),
            houses=tuple(sorted(houses.get(row.pk, ()))),
            order_by=_order_by(row),
        )
        for row in rows
    )


def _order_by(order: PurchaseOrder) -> date | None:
    if order.number is not None or order.deliver_by is None:
        return None
    supplier = supplier_value(order.supplier, order.currency)
    return ordered_by(order.deliver_by + timedelta(days=1), supplier)


def _line(order: PurchaseOrder, line: OrderLine) -> LineShown:
    return LineShown(
        row=line,
        pack=pack_name(line),
        unit_price=Money(line.unit_price_cents, order.currency),
        total=Money(line.total_cents, order.currency),
    )
