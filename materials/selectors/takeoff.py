"""What the takeoff pages of a house and of a project show: one call per page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from materials.catalogue.rollup import HouseRollUp, roll_up_house
from materials.catalogue.totals import Totals, sum_demands
from materials.exchange.needs import ALL_HOUSES, Need, Summed, needs_of
from materials.selectors.compatibility import ProjectPairs, pairs_of
from materials.selectors.rollups import roll_ups_of
from openings.selectors import opening_inputs, specifications_in_force
from openings.takeoff.compute import take_off_house
from openings.takeoff.contradictions import contradictions_of
from openings.takeoff.specification import Specification
from projects.errors import BadValue
from projects.models import Company, House, Project
from projects.problems import Problem
from projects.quantities.length import Length
from projects.selectors import row_of


@dataclass(frozen=True, slots=True)
class HouseShown:
    """One house of a project: how many rolls of each of the project's strip widths."""

    house: House
    totals: Totals
    rolls: tuple[tuple[Length, int], ...]


@dataclass(frozen=True, slots=True)
class Takeoff:
    """What a house comes to, or a project with each of its houses.

    `rollup` is None, and a problem says why, where a strip is longer than a roll. `pairs` is what is used
    together on the project.
    """

    openings: int
    rollup: HouseRollUp | None
    houses: tuple[HouseShown, ...]
    problems: tuple[Problem, ...]
    pairs: ProjectPairs
    refused: int
    specification: Specification

    @property
    def needs(self) -> tuple[Need, ...]:
        """Return the lines of what it comes to, none where there is no sum."""
        return needs_of(self.rollup) if self.rollup and self.openings else ()


def house_takeoff(company: Company, pk: int) -> tuple[House, Takeoff]:
    """Return a house and what it comes to. Raises NotThere."""
    house = row_of(House, company, pk, "project__company")
    in_force = specifications_in_force([house.project])
    specification = in_force[house.project_id].specification
    totals = roll_ups_of(company, [house], in_force).totals[pk]
    # the roll-up only counts what is refused: the takeoff says why
    refused = take_off_house(opening_inputs(house), specification).problems if totals.refused else ()
    pairs = pairs_of(company, [house.project])[house.project_id]
    return house, _takeoff([totals], specification, (), refused, pairs)


def project_takeoff(company: Company, pk: int) -> tuple[Project, Takeoff]:
    """Return a project, each of its houses, and their sum with packs rounded up once. Raises NotThere."""
    project = row_of(Project, company, pk)
    houses = list(House.objects.of(company).filter(project=project, archived=False).order_by("code", "id"))
    in_force = specifications_in_force([project])
    specification = in_force[pk].specification
    totals = roll_ups_of(company, houses, in_force).totals
    refused = tuple(contradictions_of(specification))
    pairs = pairs_of(company, [project])[pk]
    return project, _takeoff(list(totals.values()), specification, houses, refused, pairs)


def takeoff_summed(project: Project, house: House | None, takeoff: Takeoff) -> tuple[Summed, ...]:
    """Return the lines of a house; of a project those of all its houses together, then of each house."""
    name = house.code if house else ALL_HOUSES
    together = Summed(project.code, name, takeoff.openings, takeoff.refused, takeoff.needs)
    return (together, *(_summed(project, each, takeoff.specification) for each in takeoff.houses))


def _summed(project: Project, each: HouseShown, specification: Specification) -> Summed:
    totals = each.totals
    lines: tuple[Need, ...] = ()
    if totals.packs is not None and totals.openings:
        lines = needs_of(roll_up_house(totals.demand, specification))
    return Summed(project.code, each.house.code, totals.openings, totals.refused, lines)


def _takeoff(
    totals: Sequence[Totals],
    specification: Specification,
    houses: Sequence[House],
    refused: Sequence[Problem],
    pairs: ProjectPairs,
) -> Takeoff:
    openings, rollup, problems = sum(each.openings for each in totals), None, list(refused)
    try:
        rollup = roll_up_house(sum_demands(totals), specification)
    except BadValue as error:
        problems.append(Problem(error.problem, error.remedy))
    widths = [strips.width for strips in rollup.strips] if rollup else []
    shown = tuple(_shown(house, each, widths) for house, each in zip(houses, totals, strict=bool(houses)))
    refused_openings = sum(each.refused for each in totals)
    return Takeoff(openings, rollup, shown, tuple(problems), pairs, refused_openings, specification)


def _shown(house: House, totals: Totals, widths: Sequence[Length]) -> HouseShown:
    rolls = totals.packs.rolls if totals.packs else {}
    return HouseShown(house, totals, tuple((width, rolls.get(width.nm, 0)) for width in widths))
