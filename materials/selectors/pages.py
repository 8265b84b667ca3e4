"""What the pages of needs and orders show: one call per page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from materials.catalogue.load import load_catalogue
from materials.models import NeedDate, Price
from materials.selectors.demand import (
    WEEK,
    MaterialDemand,
    WeekDemand,
    by_material,
    covered,
    monday_of,
    week_demand,
)
from materials.selectors.growth import Growth
from materials.selectors.orders import OrderShown, local_today, orders_of
from projects.models import Company, Elevation
from projects.problems import Problem
from projects.quantities.length import Length
from projects.quantities.text import format_feet
from projects.quantities.volume import Volume


@dataclass(frozen=True, slots=True)
class NeedShown:
    """One material of a week: how much is needed, what no order covers, by how much it grew since ordered."""

    name: str
    needed: date
    quantity: str
    short: str
    grown: str


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
    has_prices: bool

    @property
    def is_short(self) -> bool:
        """Return whether anything is not covered yet."""
        return any(need.short for need in self.needs)

    @property
    def drafts(self) -> tuple[OrderShown, ...]:
        """Return the orders that wait to be issued."""
        return tuple(order for order in self.orders if order.is_draft)


def week_page(company: Company, day: date) -> WeekPage:
    """Return a week's needs and orders."""
    demand = week_demand(company, day)
    done = covered(company, (each.opening for each in demand.openings))
    orders = orders_of(company, week=demand.week)
    return WeekPage(
        week=demand.week,
        faces=_faces(company, demand),
        needs=_needs(demand, done),
        orders=orders,
        problems=demand.problems,
        has_prices=Price.objects.of(company).exists(),
    )


def next_week(company: Company) -> date:
    """Return the Monday after today at the company."""
    return monday_of(local_today(company)) + WEEK


def told_quantity(unit: str, quantity: int) -> str:
    """Return a quantity in the material's base unit as people say it."""
    if unit == "length":
        return format_feet(Length(quantity), nearest=1)
    if unit == "volume":
        return f"{Volume(quantity).in_cubic_inches:,.1f} in³"
    return f"{quantity}"


def _needs(demand: WeekDemand, done: Mapping[tuple[int, str], int]) -> tuple[NeedShown, ...]:
    short: Counter[str] = Counter()
    grown: Counter[str] = Counter()
    for each in demand.openings:
        for need in each.needs:
            had = done.get((each.opening, need.material.key))
            lacking = grown if had else short
            lacking[need.material.key] += max(0, need.quantity - (had or 0))
    return tuple(
        _shown(each, short=short[each.material], grown=grown[each.material])
        for each in by_material(demand.openings)
    )


def _shown(demand: MaterialDemand, *, short: int, grown: int) -> NeedShown:
    material = load_catalogue().material(demand.material)
    return NeedShown(
        name=material.name,
        needed=demand.needed,
        quantity=told_quantity(material.unit, demand.quantity),
        short=told_quantity(material.unit, short) if short else "",
        grown=told_quantity(material.unit, grown) if grown else "",
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
