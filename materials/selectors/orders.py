"""Reading orders: lists, one order with its lines and state, and what changed since it was issued."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from django.db.models import Max, Prefetch, QuerySet, Sum
from django.utils import timezone

from materials.catalogue.load import load_catalogue
from materials.catalogue.material import Material
from materials.convert import content_hash_of, state_of
from materials.models import Coverage, OrderEvent, OrderLine, PurchaseOrder, Supplier
from materials.ordering.buying import Wanted
from materials.ordering.orders import Difference, differences
from materials.selectors.demand import Key, OpeningDemand, by_material, openings_demand
from projects.errors import NotThere
from projects.models import Company
from projects.quantities.money import Money

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class LineShown:
    """One line as people read it: the row, its pack in words, its money."""

    row: OrderLine
    pack: str
    unit_price: Money
    total: Money


@dataclass(frozen=True, slots=True)
class OrderShown:
    """An order with its lines, state and total; `missing` is what it lacks to the supplier's minimum."""

    row: PurchaseOrder
    state: str
    lines: tuple[LineShown, ...]
    total: Money
    missing: Money
    houses: tuple[str, ...]
    order_by: date | None

    @property
    def is_draft(self) -> bool:
        """Return whether it can still be issued or discarded."""
        return self.row.number is None


@dataclass(frozen=True, slots=True)
class Growth:
    """What the openings of an order need now beyond what it covers.

    `is_stale`: what the order itself covers is no longer what its openings need; a draft is then made again.
    """

    openings: tuple[OpeningDemand, ...]
    differences: tuple[Difference, ...]
    wanted: tuple[Wanted, ...]
    quantities: Mapping[Key, int]
    rounds: Mapping[Key, int]
    is_stale: bool

    @property
    def is_none(self) -> bool:
        """Return whether the houses still need what was ordered."""
        return not self.differences


def local_today(company: Company) -> date:
    """Return today at the company."""
    return timezone.now().astimezone(ZoneInfo(company.time_zone)).date()


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


def growth_of(order: PurchaseOrder) -> Growth:
    """Return how the need of an order's openings differs from what its lines and later ones cover."""
    company = order.company
    own = Coverage.objects.of(company).filter(line__order=order, live=True)
    mine = set(own.values_list("opening", "material"))
    openings = sorted({opening for opening, _ in mine})
    every = (
        Coverage.objects.of(company)
        .filter(live=True, opening__in=openings)
        .values_list("opening", "material")
        .annotate(total=Sum("quantity"), last=Max("round"))
    )
    have = {(opening, material): (total, last) for opening, material, total, last in every}
    demand = openings_demand(company, openings, order.deliver_by or order.week)
    need = {(each.opening, one.material.key): one.quantity for each in demand for one in each.needs}
    grown = {
        key: quantity - have.get(key, (0, 0))[0]
        for key, quantity in need.items()
        if quantity > have.get(key, (0, 0))[0]
    }
    ordered: Counter[str] = Counter()
    needed: Counter[str] = Counter()
    for (_, material), (total, _last) in have.items():
        ordered[material] += total
    for (_, material), quantity in need.items():
        needed[material] += quantity
    return Growth(
        openings=demand,
        differences=differences(ordered.items(), needed),
        wanted=_still_wanted(order, demand, grown),
        quantities=grown,
        rounds={key: have.get(key, (0, 0))[1] + 1 for key in grown},
        is_stale=any(need.get(key, 0) != have[key][0] for key in mine),
    )


def _still_wanted(
    order: PurchaseOrder, demand: Sequence[OpeningDemand], grown: Mapping[Key, int]
) -> tuple[Wanted, ...]:
    """Return what to buy for what grew: cut material by its new pieces, all else beyond the packs' room."""
    room: Counter[str] = Counter()
    for line in order.lines.all():
        room[line.material] += line.packs * line.pack_size - line.need
    changed = [
        OpeningDemand(
            each.opening,
            each.mark,
            each.house,
            each.elevation,
            each.needed,
            tuple(one for one in each.needs if (each.opening, one.material.key) in grown),
        )
        for each in demand
    ]
    extra: Counter[str] = Counter()
    for (_, material), quantity in grown.items():
        extra[material] += quantity
    wanted = []
    for each in by_material(changed):
        beyond = extra[each.material] - max(0, room[each.material])
        if each.pieces:  # a strip is one piece: what was cut too short does not grow
            wanted.append(Wanted(each.material, each.needed, each.quantity, each.pieces))
        elif beyond > 0:
            wanted.append(Wanted(each.material, each.needed, beyond))
    return tuple(wanted)


def has_changed(order: PurchaseOrder) -> bool:
    """Return whether an issued order is no longer what was sent: it never may be."""
    return order.number is not None and content_hash_of(order, order.lines.all()) != order.content_hash


def _fetched(rows: QuerySet[PurchaseOrder]) -> QuerySet[PurchaseOrder]:
    lines: QuerySet[OrderLine] = OrderLine.objects.order_by("position")
    events: QuerySet[OrderEvent] = OrderEvent.objects.order_by("id").select_related("by")
    related = rows.select_related("company", "supplier", "project", "issued_by")
    fetched = related.prefetch_related(Prefetch("lines", queryset=lines), Prefetch("events", queryset=events))
    return fetched.order_by("-week", "supplier__name", "pk")


def _shown(company: Company, rows: Sequence[PurchaseOrder]) -> tuple[OrderShown, ...]:
    houses: dict[int, set[str]] = {}
    pairs = Coverage.objects.of(company).filter(line__order__in=rows)
    for order, code in pairs.values_list("line__order", "opening__house__code").distinct():
        houses.setdefault(order, set()).add(code)
    catalogue = load_catalogue().materials
    return tuple(
        OrderShown(
            row=row,
            state=state_of(row, row.events.all()),
            lines=tuple(_line(row, line, catalogue) for line in row.lines.all()),
            total=Money(row.total_cents, row.currency),
            missing=Money(max(0, row.supplier.minimum_cents - row.total_cents), row.currency),
            houses=tuple(sorted(houses.get(row.pk, ()))),
            order_by=None,
        )
        for row in rows
    )


def _line(order: PurchaseOrder, line: OrderLine, catalogue: Mapping[str, Material]) -> LineShown:
    material = catalogue.get(line.material)
    names = {pack.label.key: pack.label.name for pack in material.packs} if material else {}
    return LineShown(
        row=line,
        pack=names.get(line.pack, line.pack),
        unit_price=Money(line.unit_price_cents, order.currency),
        total=Money(line.total_cents, order.currency),
    )
