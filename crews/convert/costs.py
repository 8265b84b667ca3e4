"""A house's takeoff, prices, crews and rents become what its cost follows from; no query here."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from crews.convert.labour import Reach, method_of, person_minutes, step_times
from crews.convert.words import counted
from crews.costing.inputs import (
    CrewRate,
    DayShare,
    HouseWork,
    MaterialPrice,
    MaterialUse,
    OpeningWork,
    SharedCharge,
)
from crews.models import CrewMember
from materials.catalogue.load import load_catalogue
from materials.catalogue.meet import MaterialNeed, meet_demand
from materials.models import Price
from openings.takeoff.compute import HouseTakeoff, OpeningTakeoff
from openings.takeoff.demand import demand_of
from openings.takeoff.specification import Specification
from projects.errors import BadValue
from projects.models import Access
from projects.quantities.length import NM_PER_INCH
from projects.quantities.money import Money
from projects.quantities.volume import PL_PER_IN3

# How a material's base unit is told where money is: nanometres as feet, picolitres as cubic inches.
UNITS: Mapping[str, tuple[str, Fraction]] = {
    "length": ("ft", Fraction(12 * NM_PER_INCH)),
    "volume": ("cu in", PL_PER_IN3),
    "pieces": ("each", Fraction(1)),
}
USUAL_CREW = 2


@dataclass(frozen=True, slots=True)
class Face:
    """An elevation as its cost sees it; `days` are those on which crews are sent to it."""

    name: str
    access: str
    days: int


@dataclass(frozen=True, slots=True)
class Rates:
    """What the company pays: wages of the crews in question, rents a day by access, packs as they cost."""

    crew: CrewRate | None
    people: int
    rents: Mapping[str, Money]
    prices: Sequence[Price]
    currency: str


@dataclass(frozen=True, slots=True)
class Priced:
    """What a house's cost follows from, and what is not in it because nobody has said its price."""

    work: HouseWork
    unpriced: tuple[str, ...]


def crew_rate(members: Iterable[CrewMember], currency: str) -> CrewRate | None:
    """Return the members' mean wage and the burden on it, None where no wage is known.

    The burden is the one that brings the same sum where members' burdens differ.
    """
    paid = [member for member in members if member.wage_cents]
    if not paid:
        return None
    bare = sum(member.wage_cents or 0 for member in paid)
    burdened = sum(
        (Fraction((member.wage_cents or 0) * (100 + member.burden_percent), 100) for member in paid),
        Fraction(0),
    )
    wages = tuple(Money(member.wage_cents or 0, currency) for member in paid)
    return CrewRate(wages, burdened / bare - 1)


def prices_on(day: date, prices: Iterable[Price]) -> list[Price]:
    """Return of each supplier's pack the newest price that is valid on `day`."""
    newest: dict[tuple[int, str, str], Price] = {}
    for price in sorted(prices, key=lambda row: row.valid_from):
        if price.valid_from <= day:
            newest[price.supplier_id, price.material, price.pack] = price
    return list(newest.values())


def house_work(taken: HouseTakeoff, faces: Sequence[Face], rates: Rates, crew: CrewRate) -> Priced:
    """Return what the house's cost follows from: each opening's materials and steps, packs, rents."""
    by_name = {face.name: face for face in faces}
    reaches = {face.name: Reach("", face.name, face.access) for face in faces}
    prices, unpriced = _material_prices(taken, rates)
    priced = {price.material for price in prices}
    works = tuple(
        OpeningWork(
            each.opening.mark,
            materials=_uses(each, taken.specification, priced),
            steps=step_times(
                each,
                taken.specification,
                reach=reaches[each.opening.elevation],
                people=rates.people or USUAL_CREW,
            ),
        )
        for each in taken.openings
    )
    return Priced(
        HouseWork(
            openings=works,
            crew=crew,
            prices=prices,
            day=_day_share(taken),
            shared=tuple(_rents(taken, by_name, works, rates)),
            currency=rates.currency,
        ),
        unpriced,
    )


def _uses(taken: OpeningTakeoff, specification: Specification, priced: set[str]) -> tuple[MaterialUse, ...]:
    met = meet_demand(demand_of(taken.lines), specification, load_catalogue())
    return tuple(
        MaterialUse(need.material.name, _in_unit(need.material.unit, need.quantity), _basis(need))
        for need in met.needs
        if need.material.name in priced
    )


def _basis(need: MaterialNeed) -> str:
    if need.pieces:
        return f"{counted(sum(need.pieces.values()), 'piece')} cut to length"
    if need.material.meets == "sealant":
        return "beads with waste"
    return "as taken off"


def _in_unit(unit: str, quantity: int) -> Fraction:
    return quantity / UNITS[unit][1]


def _material_prices(taken: HouseTakeoff, rates: Rates) -> tuple[tuple[MaterialPrice, ...], tuple[str, ...]]:
    """Return a price per material, from the pack in which the house's need comes cheapest.

    Rolls, sticks, tubes and cans are paid whole, so the house carries their waste; what is left in a box of
    pieces goes to the next house.
    """
    found: list[MaterialPrice] = []
    unpriced: list[str] = []
    for need in meet_demand(taken.demand, taken.specification, load_catalogue()).needs:
        offers = [
            (packs * price.price_cents, price.pack_size, price)
            for price in rates.prices
            if price.material == need.material.key and (packs := _packs(need, price)) is not None
        ]
        if not offers:
            unpriced.append(need.material.name)
            continue
        paid, _, price = min(offers, key=lambda offer: (offer[0], offer[1], offer[2].pk))
        unit = UNITS[need.material.unit][0]
        found.append(
            MaterialPrice(
                material=need.material.name,
                unit=unit,
                pack_size=_in_unit(need.material.unit, price.pack_size),
                pack_price=Money(price.price_cents, rates.currency),
                paid=None if need.material.unit == "pieces" else Money(paid, rates.currency),
            )
        )
    return tuple(found), tuple(unpriced)


def _packs(need: MaterialNeed, price: Price) -> int | None:
    """Return how many packs of this price the house needs, None where a piece is longer than the pack."""
    try:
        return need.packs(need.material.pack(price.pack))
    except BadValue:
        return None


def _day_share(taken: HouseTakeoff) -> DayShare:
    paces = [method_of(each, taken.specification).pace for each in taken.openings[:1]]
    return DayShare(paces[0].day.whole_minutes, paces[0].set_up.whole_minutes) if paces else DayShare()


def _rents(
    taken: HouseTakeoff, faces: Mapping[str, Face], works: Sequence[OpeningWork], rates: Rates
) -> Iterable[SharedCharge]:
    """Yield a charge per elevation and thing rented, shared over the openings that need it by their work."""
    weights = {work.mark: math.ceil(person_minutes(work.steps)) for work in works}
    needs: dict[tuple[str, str], list[str]] = {}
    for each in taken.openings:
        face = faces[each.opening.elevation]
        access = Access.LIFT if each.needs_lift else face.access
        if access in rates.rents:
            needs.setdefault((face.name, str(access)), []).append(each.opening.mark)
    share = _day_share(taken)
    for (name, access), marks in needs.items():
        work = sum(weights[mark] for mark in marks)
        worked = (rates.people or USUAL_CREW) * (share.day - share.set_up)
        planned = faces[name].days
        days = planned or -(-work // worked)
        told = "as crews are sent" if planned else "estimated from the work"
        rent = rates.rents[access]
        if rent.cents and work:
            yield SharedCharge(
                name=f"{access} for {name}",
                total=rent * days,
                weights=tuple((mark, weights[mark]) for mark in marks),
                basis=f"{counted(days, 'day')} at {rent.as_text}, {told}",
            )
