"""What the pages of takeoff, needs and orders show: one call per page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from materials.catalogue.load import load_catalogue
from materials.catalogue.rollup import HouseRollUp, roll_up_house
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
from materials.selectors.orders import Growth, OrderShown, local_today, orders_of
from openings.selectors import opening_inputs_by_house, specification_in_force, specifications_in_force
from openings.takeoff.compute import take_off_house
from openings.takeoff.demand import add_demands
from openings.takeoff.specification import Specification
from projects.models import Company, Elevation, House, Project
from projects.problems import Problem
from projects.quantities.length import Length
from projects.quantities.text import format_feet
from projects.quantities.volume import Volume
from projects.selectors import row_of


@dataclass(frozen=True, slots=True)
class Takeoff:
    """The roll-up of one house or of all houses of a project."""

    rollup: HouseRollUp
    specification: Specification
    houses: int
    openings: int
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class NeedShown:
    """One material of a week: how much is needed, how much is covered, what is short."""

    name: str
    needed: date
    quantity: str
    short: str


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


def house_takeoff(company: Company, pk: int) -> tuple[House, Takeoff]:
    """Return a house and its roll-up. Raises NotThere."""
    house = row_of(House, company, pk, "project")
    specification = specification_in_force(house.project).specification
    values = opening_inputs_by_house(company, [house])[house.pk]
    taken = take_off_house(values, specification)
    rollup = roll_up_house(taken.demand, specification)
    return house, Takeoff(rollup, specification, 1, len(values), tuple(taken.problems))


def project_takeoff(company: Company, pk: int) -> tuple[Project, Takeoff]:
    """Return a project and the sum over its houses; rolls and tubes are rounded up once. Raises NotThere."""
    project = row_of(Project, company, pk)
    houses = list(House.objects.of(company).filter(project=project, archived=False))
    specification = specifications_in_force([project])[project.pk].specification
    values = opening_inputs_by_house(company, houses)
    taken = [take_off_house(found, specification) for found in values.values()]
    demand = add_demands((each.demand, 1) for each in taken)
    problems = tuple(problem for each in taken for problem in each.problems)
    openings = sum(len(found) for found in values.values())
    return project, Takeoff(
        roll_up_house(demand, specification), specification, len(houses), openings, problems
    )


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
        return f"{Volume(quantity).in_millilitres / 1000:.1f} L"
    return f"{quantity}"


def _needs(demand: WeekDemand, done: Mapping[tuple[int, str], int]) -> tuple[NeedShown, ...]:
    short: Counter[str] = Counter()
    for each in demand.openings:
        for need in each.needs:
            lacking = need.quantity - done.get((each.opening, need.material.key), 0)
            short[need.material.key] += max(0, lacking)
    return tuple(_shown(each, short[each.material]) for each in by_material(demand.openings))


def _shown(demand: MaterialDemand, short: int) -> NeedShown:
    material = load_catalogue().material(demand.material)
    return NeedShown(
        name=material.name,
        needed=demand.needed,
        quantity=told_quantity(material.unit, demand.quantity),
        short=told_quantity(material.unit, short) if short else "",
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
