"""Reading openings, specifications and schedules; prefetching lives here."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from django.db.models import Count, Q, QuerySet, Sum

from openings.convert import COLUMNS, GEOMETRY_COLUMNS, geometry_of_columns, input_of_columns
from openings.models import Opening, SpecificationVersion
from openings.takeoff.geometry import Geometry
from openings.takeoff.opening import OpeningInput
from openings.takeoff.settings import apply_settings
from openings.takeoff.specification import DEFAULT, Specification
from projects.errors import NotThere
from projects.models import Company, HeaderMatch, House, Project

ROWS_AT_ONCE = 5_000


@dataclass(frozen=True, slots=True)
class InForce:
    """The specification that holds for a project, and the numbers of the versions it comes from."""

    specification: Specification
    company_version: int
    project_version: int

    @property
    def label(self) -> str:
        """Return both numbers, as an order or a plan keeps them: `3.1`."""
        return f"{self.company_version}.{self.project_version}"


def latest_specification(company: Company, project: Project | None) -> SpecificationVersion | None:
    """Return the newest version of the project's, or with None of the company's own settings."""
    rows = SpecificationVersion.objects.of(company).filter(project=project)
    return rows.order_by("-number").first()


def specification_below(company: Company, project: Project | None) -> Specification:
    """Return what the settings of `project` lie over: the company's, or with None the built-in defaults."""
    company_own = latest_specification(company, None) if project else None
    return apply_settings(DEFAULT, company_own.settings) if company_own else DEFAULT


def specification_in_force(project: Project) -> InForce:
    """Return the project's specification: its settings over the company's over the defaults. One query."""
    return specifications_in_force([project])[project.pk]


def specifications_in_force(projects: Sequence[Project]) -> dict[int, InForce]:
    """Return the specification of each project by its primary key, in one query for all."""
    if not projects:
        return {}
    return specifications_by_project(projects[0].company, [project.pk for project in projects])


def specifications_by_project(company: Company, projects: Collection[int]) -> dict[int, InForce]:
    """Return the same of the projects with these primary keys."""
    latest: dict[int | None, SpecificationVersion] = {}
    rows = SpecificationVersion.objects.of(company)
    rows = rows.filter(Q(project__isnull=True) | Q(project__in=projects))
    for version in rows.order_by("number"):
        latest[version.project_id] = version
    own = latest.get(None)
    base = apply_settings(DEFAULT, own.settings) if own else DEFAULT
    return {pk: _in_force(base, own, latest.get(pk)) for pk in projects}


def _in_force(
    base: Specification, own: SpecificationVersion | None, version: SpecificationVersion | None
) -> InForce:
    return InForce(
        apply_settings(base, version.settings) if version else base,
        own.number if own else 0,
        version.number if version else 0,
    )


def live_openings(company: Company) -> QuerySet[Opening]:
    """Return the company's openings that are still in their schedule."""
    return Opening.objects.of(company).filter(removed_at__isnull=True)


def opening_inputs(house: House) -> list[OpeningInput]:
    """Return the house's openings as the takeoff reads them, in walking order. One query."""
    rows = live_openings(house.company).filter(house=house).values(*COLUMNS)
    return [input_of_columns(row) for row in rows]


def opening_inputs_by_house(company: Company, houses: Sequence[House]) -> dict[int, list[OpeningInput]]:
    """Return the openings of many houses by the house's primary key, each in walking order. One query."""
    found: dict[int, list[OpeningInput]] = {house.pk: [] for house in houses}
    for row in live_openings(company).filter(house__in=houses).values("house_id", *COLUMNS):
        found[row["house_id"]].append(input_of_columns(row))
    return found


def geometries_by_house(company: Company, houses: Sequence[House]) -> dict[int, dict[Geometry, int]]:
    """Return how many openings of each geometry a house has, by its primary key. One query.

    This is all that a roll-up needs. Counted here, for the database would sort the rows to count them.
    """
    rows = live_openings(company).filter(house__in=[house.pk for house in houses]).order_by()
    counted = Counter(rows.values_list("house_id", *GEOMETRY_COLUMNS).iterator(chunk_size=ROWS_AT_ONCE))
    found: dict[int, dict[Geometry, int]] = {house.pk: {} for house in houses}
    for (house, *columns), openings in counted.items():
        found[house][geometry_of_columns(tuple(columns))] = openings
    return found


def find_house(company: Company, code: str) -> House:
    """Return the house with this code in any case of letters. Raises NotThere."""
    house = House.objects.of(company).select_related("project", "company").filter(code__iexact=code).first()
    if house is None:
        raise NotThere
    return house


def remembered_match(house: House) -> dict[str, str]:
    """Return what the house's builder calls our columns, as remembered: their header to our column."""
    builder = house.project.builder
    match = HeaderMatch.objects.of(house.company).filter(builder__iexact=builder).first()
    return {theirs: ours for theirs, ours in match.mapping.items() if ours} if match else {}


def fingerprints(company: Company, houses: Sequence[House]) -> dict[int, str]:
    """Return per house a text that changes with every save of one of its openings. One query.

    Openings are never deleted and each save counts its version up, so count and sum of the versions grow
    with every change.
    """
    rows = (
        Opening.objects.of(company)
        .filter(house__in=[house.pk for house in houses])
        .order_by()
        .values_list("house_id")
        .annotate(rows=Count("id"), saves=Sum("version"))
    )
    found = {house.pk: "0:0" for house in houses}
    found.update({house: f"{count}:{saves}" for house, count, saves in rows})
    return found
