"""What the pages of needs and orders show: one call per page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from materials.catalogue.load import load_catalogue
from materials.models import NeedDate
from materials.ordering.lacking import NOTHING
from materials.ordering.plan import Loss
from materials.selectors.compatibility import ProjectPairs, pairs_of
from materials.selectors.demand import (
    WEEK,
    MaterialDemand,
    WeekDemand,
    amounts_of,
    by_material,
    monday_of,
    week_demand,
)
from materials.selectors.growth import Growth
from materials.selectors.netting import Netted, net_openings
from materials.selectors.orders import OrderShown, local_today, orders_of
from materials.selectors.prices import market_today
from materials.selectors.supply import lot_numbers
from materials.selectors.telling import told_quantity
from projects.models import Company, Elevation
from projects.problems import Problem


@dataclass(frozen=True, slots=True)
class NeedShown:
    """One material of a week: what is needed, what stock and orders give, what lacks.

    `reserve` is what is to be bought so that enough stays; `grown`, by how much it grew since ordered.
    """

    key: str
    name: str
    needed: date
    quantity: str
    stock: str
    ordered: str
    short: str
    reserve: str
    grown: str


@dataclass(frozen=True, slots=True)
class LossShown:
    """What of a lot or delivery will be past its last good day before the week needs it."""

    name: str
    quantity: str
    source: str
    last_good: date


@dataclass(frozen=True, slots=True)
class FaceShown:
    """One elevation with its need date."""

    elevation: Elevation
    day: date | None
    basis: str
    openings: int


@dataclass(frozen=True, slots=True)
class WeekPage:
    """A week as the office sees it: what it needs, what is short, and its orders."""

    week: date
    faces: tuple[FaceShown, ...]
    needs: tuple[NeedShown, ...]
    orders: tuple[OrderShown, ...]
    problems: tuple[Problem, ...]
    losses: tuple[LossShown, ...]
    has_prices: bool
    pairs: tuple[ProjectPairs, ...]

    @property
    def is_short(self) -> bool:
        """Return whether anything is to be bought."""
        return any(need.short or need.reserve for need in self.needs)

    @property
    def days(self) -> tuple[date, ...]:
        """Return the days on which elevations are needed."""
        return tuple(sorted({face.day for face in self.faces if face.day}))

    @property
    def drafts(self) -> tuple[OrderShown, ...]:
        """Return the orders that wait to be issued."""
        return tuple(order for order in self.orders if order.is_draft)


def week_page(company: Company, day: date) -> WeekPage:
    """Return a week's needs and orders."""
    demand = week_demand(company, day)
    market = market_today(company)
    netted = net_openings(company, demand.openings, market)
    orders = orders_of(company, week=demand.week)
    faces = _faces(company, demand)
    projects = {face.elevation.house.project for face in faces if not face.elevation.house.archived}
    return WeekPage(
        week=demand.week,
        faces=faces,
        needs=_needs(demand, netted),
        orders=orders,
        problems=demand.problems,
        losses=losses_shown(company, netted.losses),
        has_prices=bool(market.packs),
        pairs=tuple(pairs_of(company, sorted(projects, key=lambda project: project.name)).values()),
    )


def next_week(company: Company) -> date:
    """Return the Monday after today at the company."""
    return monday_of(local_today(company)) + WEEK


def losses_shown(company: Company, losses: Sequence[Loss]) -> tuple[LossShown, ...]:
    """Return losses in words, each lot by the number on its packs."""
    numbers = lot_numbers(company, {loss.source for loss in losses})
    catalogue = load_catalogue()
    return tuple(
        LossShown(
            name=catalogue.material(loss.material).name,
            quantity=told_quantity(catalogue.material(loss.material).unit, loss.quantity),
            source=numbers.get(loss.source, f"order {loss.source}"),
            last_good=loss.last_good,
        )
        for loss in losses
    )


def _needs(demand: WeekDemand, netted: Netted) -> tuple[NeedShown, ...]:
    counts = {name: Counter[str]() for name in ("stock", "ordered", "short", "reserve", "grown")}
    for name, amounts in (
        ("stock", netted.kept),
        ("stock", netted.given),
        ("ordered", netted.ordered),
        ("short", netted.lacking),
    ):
        for (_, material), amount in amounts.items():
            counts[name][material] += amount.quantity
    for wanted in netted.wanted:
        counts["reserve"][wanted.material] = wanted.quantity - counts["short"][wanted.material]
    for key, amount in amounts_of(demand.openings).items():
        if key in netted.ordered:
            had = netted.ordered[key].quantity + netted.kept.get(key, NOTHING).quantity
            counts["grown"][key[1]] += max(0, amount.quantity - had)
    return tuple(_shown(each, counts) for each in by_material(demand.openings))


def _shown(demand: MaterialDemand, counts: Mapping[str, Counter[str]]) -> NeedShown:
    material = load_catalogue().material(demand.material)
    told = {
        name: told_quantity(material.unit, found[demand.material]) if found[demand.material] else ""
        for name, found in counts.items()
    }
    return NeedShown(
        key=material.key,
        name=material.name,
        needed=demand.needed,
        quantity=told_quantity(material.unit, demand.quantity),
        **told,
    )


def _faces(company: Company, demand: WeekDemand) -> tuple[FaceShown, ...]:
    counts: Counter[tuple[str, str]] = Counter((each.house, each.elevation) for each in demand.openings)
    rows = (
        NeedDate.objects.of(company)
        .filter(date__gte=demand.week, date__lt=demand.week + WEEK)
        .select_related("elevation__house__project")
        .order_by("date", "elevation__house__code", "elevation__walking_order")
    )
    return tuple(
        FaceShown(row.elevation, row.date, row.basis, counts[row.elevation.house.code, row.elevation.name])
        for row in rows
    )


@dataclass(frozen=True, slots=True)
class DifferenceShown:
    """One material whose need changed after the order, in words."""

    name: str
    ordered: str
    needed: str
    to_order: str
    surplus: str


def differences_shown(growth: Growth) -> tuple[DifferenceShown, ...]:
    """Return what changed since the order was made, by material."""
    catalogue = load_catalogue()
    shown = []
    for each in growth.differences:
        material = catalogue.material(each.material)
        shown.append(
            DifferenceShown(
                name=material.name,
                ordered=told_quantity(material.unit, each.ordered),
                needed=told_quantity(material.unit, each.needed),
                to_order=told_quantity(material.unit, each.to_order) if each.to_order else "",
                surplus=told_quantity(material.unit, each.surplus) if each.surplus else "",
            )
        )
    return tuple(shown)
