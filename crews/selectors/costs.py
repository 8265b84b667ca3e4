"""What houses are planned to cost, opening by opening, and what stands behind each number."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from crews.convert.costs import Face, Priced, Rates, crew_rate, house_work, prices_on
from crews.costing.compute import cost_house
from crews.costing.cost import HouseCost, OpeningCost, summed
from crews.models import Assignment, CrewMember, Rental
from materials.models import Price
from materials.selectors.orders import local_today
from openings.convert import COLUMNS, input_of_columns
from openings.selectors import InForce, live_openings, specifications_in_force
from openings.takeoff.compute import RULES_VERSION, HouseTakeoff, take_off_house
from projects.models import Access, Company, Elevation, House
from projects.problems import Problem
from projects.quantities.money import Money
from projects.selectors import version_of

# Rent a day until the company sets its own. Grade E: estimates.
USUAL_RENTS = {Access.LADDER.value: 1200, Access.LIFT.value: 16500}
SET_RENTAL = "set rental"
ESTIMATE = "estimate, until the company sets its own"
NO_WAGES = (
    "No wage is known for these crews, so there is no cost yet. The office sets wages on a crew's page."
)


@dataclass(frozen=True, slots=True)
class Rent:
    """What a day of a ladder or a lift costs, how far that is to be trusted, and who says so."""

    per_day: Money
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class CostedOpening:
    """One opening with what it costs."""

    pk: int
    elevation: int
    face: str
    method: str
    cost: OpeningCost


@dataclass(frozen=True)
class CostedHouse:
    """A house's planned cost, None where no wage is known; `notices` say what is not in it."""

    house: House
    openings: tuple[CostedOpening, ...]
    cost: HouseCost | None
    in_force: InForce
    priced_on: date
    notices: tuple[str, ...]
    problems: tuple[Problem, ...]
    rules_version: str = RULES_VERSION

    @cached_property
    def per_opening(self) -> Money | None:
        """Return the mean over the openings, to the cent."""
        return mean([each.cost.total for each in self.openings])

    @cached_property
    def by_method(self) -> tuple[tuple[str, int, Money], ...]:
        """Return for each method how many openings have it and their mean, by method."""
        return means_by_method([self])


@dataclass(frozen=True, slots=True)
class _Ground:
    """All rows that the costs of several houses need."""

    rows: Mapping[int, list[dict[str, object]]]
    faces: Mapping[int, list[Elevation]]
    in_force: Mapping[int, InForce]
    sent: Mapping[int, list[Assignment]]
    members: Sequence[CrewMember]
    rents: Mapping[str, Money]
    prices: Sequence[Price]


def cost_houses(
    company: Company, houses: Sequence[House], *, priced_on: date | None = None
) -> list[CostedHouse]:
    """Return what each house is planned to cost, in the order given, at the prices of a day: today's."""
    today = local_today(company)
    day = priced_on or today
    ground = _read(company, houses, day)
    return [_cost(house, ground, day) for house in houses]


def rentals_of(company: Company) -> dict[str, Rent]:
    """Return what a day of each access costs: the company's own figure, else the estimate."""
    rents = {
        access: Rent(Money(cents, company.currency), "E", ESTIMATE) for access, cents in USUAL_RENTS.items()
    }
    for row in Rental.objects.of(company):
        rents[row.access] = Rent(Money(row.cents_per_day, company.currency), row.grade, row.source)
    return rents


def rentals_version(company: Company) -> int:
    """Return the version of the company's rents together."""
    return version_of(company, list(Rental.objects.of(company)), SET_RENTAL)


def mean(amounts: Sequence[Money]) -> Money | None:
    """Return the mean to the cent, None of nothing."""
    if not amounts:
        return None
    total = summed(amounts, amounts[0].currency)
    return Money((2 * total.cents + len(amounts)) // (2 * len(amounts)), total.currency)


def means_by_method(houses: Iterable[CostedHouse]) -> tuple[tuple[str, int, Money], ...]:
    """Return for each method how many openings of the houses have it and their mean, by method."""
    amounts: dict[str, list[Money]] = {}
    for house in houses:
        for each in house.openings:
            amounts.setdefault(each.method, []).append(each.cost.total)
    return tuple(
        (method, len(found), average)
        for method, found in sorted(amounts.items())
        if (average := mean(found)) is not None
    )


def _read(company: Company, houses: Sequence[House], day: date) -> _Ground:
    rows: dict[int, list[dict[str, object]]] = {house.pk: [] for house in houses}
    found = live_openings(company).filter(house__in=houses)
    for row in found.values("id", "house_id", "elevation_id", *COLUMNS):
        rows[row["house_id"]].append(row)
    faces: dict[int, list[Elevation]] = {house.pk: [] for house in houses}
    for face in Elevation.objects.of(company).filter(house__in=houses):
        faces[face.house_id].append(face)
    sent: dict[int, list[Assignment]] = {house.pk: [] for house in houses}
    for row in Assignment.objects.of(company).filter(elevation__house__in=houses).select_related("elevation"):
        sent[row.elevation.house_id].append(row)
    return _Ground(
        rows=rows,
        faces=faces,
        in_force=specifications_in_force(list({house.project for house in houses})),
        sent=sent,
        members=list(CrewMember.objects.of(company).filter(archived=False, crew__archived=False)),
        rents={access: rent.per_day for access, rent in rentals_of(company).items()},
        prices=prices_on(day, Price.objects.of(company)),
    )


def _cost(house: House, ground: _Ground, day: date) -> CostedHouse:
    in_force = ground.in_force[house.project_id]
    rows = ground.rows[house.pk]
    taken = take_off_house([input_of_columns(row) for row in rows], in_force.specification)
    rates = _rates(house, ground)
    priced = None
    if rates.crew is not None:
        days = Counter(row.elevation_id for row in ground.sent[house.pk])
        faces = [Face(face.name, face.access, days[face.pk]) for face in ground.faces[house.pk]]
        priced = house_work(taken, faces, rates, rates.crew)
    cost = cost_house(priced.work) if priced else None
    return CostedHouse(
        house=house,
        openings=_openings(rows, taken, cost, in_force),
        cost=cost,
        in_force=in_force,
        priced_on=day,
        notices=_notices(taken, priced),
        problems=tuple(taken.problems),
    )


def _rates(house: House, ground: _Ground) -> Rates:
    """Return what the house's work costs an hour: its own crews' wages, all crews' before any is sent."""
    crews = {row.crew_id for row in ground.sent[house.pk]}
    members = [member for member in ground.members if not crews or member.crew_id in crews]
    sizes = Counter(member.crew_id for member in members)
    people = (2 * len(members) + len(sizes)) // (2 * len(sizes)) if sizes else 0
    currency = house.company.currency
    return Rates(crew_rate(members, currency), people, ground.rents, ground.prices, currency)


def _openings(
    rows: Sequence[dict[str, object]], taken: HouseTakeoff, cost: HouseCost | None, in_force: InForce
) -> tuple[CostedOpening, ...]:
    if cost is None:
        return ()
    by_mark = {each.mark: each for each in cost.openings}
    return tuple(
        CostedOpening(
            pk=int(str(row["id"])),
            elevation=int(str(row["elevation_id"])),
            face=str(row["elevation__name"]),
            method=str(row["method"] or in_force.specification.method),
            cost=by_mark[str(row["mark"])],
        )
        for row in rows
        if str(row["mark"]) in by_mark
    )


def _notices(taken: HouseTakeoff, priced: Priced | None) -> tuple[str, ...]:
    if priced is None:
        return (NO_WAGES,)
    told = [f"{name} has no price, so it is not in the cost." for name in priced.unpriced]
    left_out = len(taken.problems)
    if left_out:
        told.append(
            f"{left_out} opening{'' if left_out == 1 else 's'} could not be taken off: not in the cost."
        )
    return tuple(told)
