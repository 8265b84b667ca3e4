"""What openings need in materials: per opening, per house, and by the day a week needs them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import lru_cache
from typing import Any

from django.db.models import QuerySet

from materials.catalogue.load import load_catalogue
from materials.catalogue.meet import MaterialNeed, Met, meet_demand
from materials.ordering.lacking import Amount
from openings.convert import COLUMNS, input_of_columns
from openings.models import Opening
from openings.selectors import live_openings, specifications_by_project
from openings.takeoff.compute import take_off_house
from openings.takeoff.demand import Demand, demand_of
from openings.takeoff.opening import OpeningInput
from openings.takeoff.specification import Specification
from projects.models import Company, House
from projects.problems import Problem

WEEK = timedelta(days=7)
KEYS = ("id", "house_id", "elevation_id", "house__code", "house__project")
Key = tuple[int, str]
"""One opening's primary key and one material's key: the unit in which demand is covered."""


@dataclass(frozen=True, slots=True)
class OpeningDemand:
    """What one opening needs of each material, and on which morning."""

    opening: int
    mark: str
    house: str
    elevation: str
    needed: date
    needs: tuple[MaterialNeed, ...]


@dataclass(frozen=True, slots=True)
class MaterialDemand:
    """What is needed of one material over several openings. `pieces` count cut pieces by nanometres."""

    material: str
    needed: date
    quantity: int
    pieces: Mapping[int, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class WeekDemand:
    """A week's demand: by opening in walking order, with what was refused."""

    week: date
    openings: tuple[OpeningDemand, ...]
    problems: tuple[Problem, ...]


def monday_of(day: date) -> date:
    """Return the Monday of the day's week."""
    return day - timedelta(days=day.weekday())


def week_demand(company: Company, week: date, houses: Sequence[House] | None = None) -> WeekDemand:
    """Return what the elevations with a need date in the week of `week` need; `houses` None means all."""
    monday = monday_of(week)
    openings = _in_week(company, monday)
    if houses is not None:
        openings = openings.filter(house__in=houses)
    rows = list(openings.values(*KEYS, "elevation__need_date__date", *COLUMNS))
    needed = {row["elevation_id"]: row["elevation__need_date__date"] for row in rows}
    return WeekDemand(monday, *_demand_of(company, rows, needed))


def openings_in_week(company: Company, week: date) -> int:
    """Return how many openings the week of `week` wants; one query."""
    return _in_week(company, monday_of(week)).count()


def openings_demand(company: Company, openings: Iterable[int], needed: date) -> tuple[OpeningDemand, ...]:
    """Return what those of the given openings that are still in their houses need now, for `needed`."""
    rows = _rows(company, openings)
    return _demand_of(company, rows, {row["elevation_id"]: needed for row in rows})[0]


def planned_demand(company: Company, openings: Iterable[int], otherwise: date) -> tuple[OpeningDemand, ...]:
    """Return the same, each by its elevation's own day, where it has one."""
    rows = _rows(company, openings, "elevation__need_date__date")
    days = {row["elevation_id"]: row["elevation__need_date__date"] or otherwise for row in rows}
    return _demand_of(company, rows, days)[0]


def amounts_of(demands: Iterable[OpeningDemand]) -> dict[Key, Amount]:
    """Return each opening's need of each material by both keys."""
    return {
        (each.opening, need.material.key): Amount(need.quantity, dict(need.pieces))
        for each in demands
        for need in each.needs
    }


def only(demands: Iterable[OpeningDemand], keys: Container[Key]) -> tuple[OpeningDemand, ...]:
    """Return the demands for `keys` alone; openings of which nothing is left are left out."""
    kept = (
        replace(each, needs=tuple(need for need in each.needs if (each.opening, need.material.key) in keys))
        for each in demands
    )
    return tuple(each for each in kept if each.needs)


def pans_in(demands: Iterable[OpeningDemand], lacks: Mapping[Key, Amount]) -> dict[str, Counter[int]]:
    """Return by material how many of the pieces that lack may be of a pan, by nanometres.

    What covers an opening's pieces says no part. Of those of one length that lack, as many count as its pans.
    """
    found: dict[str, Counter[int]] = {}
    for each in demands:
        for need in each.needs:
            lack = lacks.get((each.opening, need.material.key))
            if lack is not None:
                pans = {nm: min(count, lack.pieces.get(nm, 0)) for nm, count in need.pans.items()}
                found.setdefault(need.material.key, Counter()).update(pans)
    return found


def by_material(demands: Iterable[OpeningDemand]) -> tuple[MaterialDemand, ...]:
    """Return the demands pooled by material, in catalogue order, each by its earliest morning."""
    quantity: Counter[str] = Counter()
    pieces: dict[str, Counter[int]] = {}
    needed: dict[str, date] = {}
    for demand in demands:
        for need in demand.needs:
            key = need.material.key
            quantity[key] += need.quantity
            pieces.setdefault(key, Counter()).update(need.pieces)
            needed[key] = min(needed.get(key, demand.needed), demand.needed)
    order = [key for key in load_catalogue().materials if key in quantity]
    return tuple(MaterialDemand(key, needed[key], quantity[key], dict(pieces[key])) for key in order)


def met_by_house(demand: Demand, specification: Specification) -> Met:
    """Return the materials for a whole house's demand."""
    return meet_demand(demand, specification, load_catalogue())


def _in_week(company: Company, monday: date) -> QuerySet[Opening]:
    """Return the openings that are needed in the week from `monday`, those of archived houses left out."""
    return live_openings(company).filter(
        elevation__need_date__date__gte=monday,
        elevation__need_date__date__lt=monday + WEEK,
        house__archived=False,
    )


def _rows(company: Company, openings: Iterable[int], *more: str) -> list[dict[str, Any]]:
    rows = live_openings(company).filter(pk__in=list(openings))
    return list(rows.values(*KEYS, *more, *COLUMNS))


def _demand_of(
    company: Company, rows: Sequence[Mapping[str, Any]], needed: Mapping[int, date]
) -> tuple[tuple[OpeningDemand, ...], tuple[Problem, ...]]:
    if not rows:
        return (), ()
    houses = {row["house_id"]: (row["house__code"], row["house__project"]) for row in rows}
    in_force = specifications_by_project(company, {project for _, project in houses.values()})
    found: list[OpeningDemand] = []
    problems: list[Problem] = []
    for pk, (code, project) in sorted(houses.items(), key=lambda pair: pair[1][0]):
        of_house = [row for row in rows if row["house_id"] == pk]
        specification = in_force[project].specification
        values = [input_of_columns(row) for row in of_house]
        needs, refused = needs_of(values, specification)
        problems += refused
        found += [
            OpeningDemand(
                opening=row["id"],
                mark=row["mark"],
                house=code,
                elevation=row["elevation__name"],
                needed=needed[row["elevation_id"]],
                needs=needs[row["mark"]],
            )
            for row in of_house
            if row["mark"] in needs
        ]
    return tuple(found), tuple(dict.fromkeys(problems))


def needs_of(
    values: Sequence[OpeningInput], specification: Specification
) -> tuple[dict[str, tuple[MaterialNeed, ...]], list[Problem]]:
    """Return what each opening needs by its mark, and what was refused."""
    taken = take_off_house(values, specification)
    problems = list(taken.problems)
    needs: dict[str, tuple[MaterialNeed, ...]] = {}
    for each in taken.openings:
        met = _met(tuple(sorted(demand_of(each.lines).items())), specification)
        needs[each.opening.mark] = met.needs
        problems += met.problems
    return needs, problems


@lru_cache(maxsize=4096)
def _met(demand: tuple[tuple[object, int], ...], specification: Specification) -> Met:
    # builders repeat their windows: most openings of a week share a few dozen demands
    return meet_demand(dict(demand), specification, load_catalogue())  # type: ignore[arg-type]
