"""What the pages of costs show: one call per page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.core.paginator import Page
from django.db.models import QuerySet

from crews.costing.cost import CostPart, Group
from crews.selectors.costs import CostedHouse, CostedOpening, cost_houses, means_by_method
from materials.exchange.table import Table, Value
from openings.models import Opening
from projects.errors import NotThere
from projects.models import Company, House
from projects.quantities.money import Money
from projects.selectors import live_houses, page_of, row_of

HOUSES_A_PAGE = 25
HOUSE_COLUMNS = (
    *("house", "opening", "face", "method"),
    *("material", "labour", "other", "total", "currency"),
)
COLUMNS = ("project", "house", "name", "openings", "per opening", "by method", "total", "currency")


@dataclass(frozen=True, slots=True)
class CostsPage:
    """A page of houses with their costs, and the means by method over them."""

    page: Page[House]
    houses: tuple[CostedHouse, ...]
    by_method: tuple[tuple[str, int, Money], ...]


@dataclass(frozen=True, slots=True)
class OpeningShown:
    """One opening's cost with its lines by group."""

    costed: CostedOpening
    groups: tuple[tuple[Group, Money, tuple[CostPart, ...]], ...]

    @property
    def total(self) -> Money:
        """Return the sum of all lines."""
        return self.costed.cost.total


def costs_page(company: Company, number: str) -> CostsPage:
    """Return one page of houses by code, each with its cost."""
    page = page_of(_houses(company), number, size=HOUSES_A_PAGE)
    houses = tuple(cost_houses(company, list(page.object_list))) if page.object_list else ()
    return CostsPage(page, _with_something(houses), means_by_method(houses))


def all_costs(company: Company) -> tuple[CostedHouse, ...]:
    """Return what stands on all pages of houses together, by code."""
    return _with_something(cost_houses(company, list(_houses(company))))


def costs_table(houses: Iterable[CostedHouse]) -> Table:
    """Return a row for each house; without a wage there is no cost, and the cell is empty."""
    return Table("Costs", COLUMNS, tuple(_row(house) for house in houses))


def house_costs_table(costed: CostedHouse) -> Table:
    """Return a row for each opening of a house; together they are its cost."""
    rows = tuple(
        (
            *(costed.house.code, each.cost.mark, each.face, each.method),
            *(each.cost.material, each.cost.labour, each.cost.other, each.cost.total),
            each.cost.total.currency,
        )
        for each in costed.openings
    )
    return Table("Costs", HOUSE_COLUMNS, rows)


def house_costs(company: Company, pk: int) -> CostedHouse:
    """Return a house with its openings' costs. Raises NotThere."""
    return cost_houses(company, [row_of(House, company, pk, "project__company")])[0]


def opening_costs(company: Company, pk: int) -> tuple[CostedHouse, OpeningShown | None]:
    """Return an opening's house and its cost, None where it has none. Raises NotThere."""
    row = row_of(Opening, company, pk, "house__project__company", "house__company")
    if row.removed_at is not None:
        raise NotThere
    found = cost_houses(company, [row.house])[0]
    costed = next((each for each in found.openings if each.pk == pk), None)
    return found, shown(costed) if costed else None


def _houses(company: Company) -> QuerySet[House]:
    return live_houses(company).select_related("company", "project__company")


def _with_something(houses: Iterable[CostedHouse]) -> tuple[CostedHouse, ...]:
    return tuple(house for house in houses if house.openings or house.notices)


def _row(costed: CostedHouse) -> tuple[Value, ...]:
    house = costed.house
    methods = "; ".join(
        f"{method} {average.as_text} of {count}" for method, count, average in costed.by_method
    )
    total = costed.cost.total if costed.cost else None
    head = (house.project.code, house.code, house.name, len(costed.openings))
    return (*head, costed.per_opening, methods, total, house.company.currency)


def shown(costed: CostedOpening) -> OpeningShown:
    """Return an opening's cost with its lines by group."""
    cost = costed.cost
    return OpeningShown(
        costed,
        tuple(
            (group, cost.of(group), tuple(part for part in cost.parts if part.group is group))
            for group in Group
        ),
    )
