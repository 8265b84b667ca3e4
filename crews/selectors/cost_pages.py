"""What the pages of costs show: one call per page."""

from __future__ import annotations

from dataclasses import dataclass

from django.core.paginator import Page

from crews.costing.cost import CostPart, Group
from crews.selectors.costs import CostedHouse, CostedOpening, cost_houses, means_by_method
from openings.models import Opening
from projects.errors import NotThere
from projects.models import Company, House
from projects.quantities.money import Money
from projects.selectors import live_houses, page_of, row_of

HOUSES_A_PAGE = 25


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
    page = page_of(
        live_houses(company).select_related("company", "project__company"), number, size=HOUSES_A_PAGE
    )
    houses = tuple(cost_houses(company, list(page.object_list))) if page.object_list else ()
    return CostsPage(
        page, tuple(house for house in houses if house.openings or house.notices), means_by_method(houses)
    )


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
