"""Does a house's cost hold? Every line and share is worked out again from the inputs alone. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from crews.costing.cost import CostPart, Group, HouseCost
from crews.costing.inputs import HouseWork


def verify(work: HouseWork, cost: HouseCost) -> tuple[str, ...]:
    """Return what is wrong with `cost`, a sentence each; empty where it holds."""
    return (*_misfits(work, cost), *_mispriced(cost), *_unbalanced(work, cost))


def _misfits(work: HouseWork, cost: HouseCost) -> Iterator[str]:
    """Tell openings and own lines that are missing or too many."""
    if [opening.mark for opening in cost.openings] != [opening.mark for opening in work.openings]:
        yield "The openings are not those of the house."
        return
    for opening, told in zip(work.openings, cost.openings, strict=True):
        wanted = sorted(
            [("material", use.material, Fraction(use.quantity)) for use in opening.materials]
            + [("labour", step.step, Fraction(step.minutes * step.people)) for step in opening.steps]
            + [("other", charge.name, Fraction(1)) for charge in opening.charges]
        )
        if sorted((p.group.value, p.name, p.quantity) for p in told.parts if not p.is_share) != wanted:
            yield f"The lines of {opening.mark} are not its materials, steps and charges."


def _mispriced(cost: HouseCost) -> Iterator[str]:
    for opening in cost.openings:
        for part in opening.parts:
            exact = part.quantity * part.cents_per_unit
            near = abs(part.amount.cents - exact) < 1
            if not (near if part.is_share else part.amount.cents == (exact + Fraction(1, 2)) // 1):
                yield f"{part.name} of {opening.mark} is {part.amount.as_text}, which is not quantity x rate."


def _unbalanced(work: HouseWork, cost: HouseCost) -> Iterator[str]:
    """Tell house-wide costs that the openings' lines do not sum to."""
    parts = [part for opening in cost.openings for part in opening.parts]
    for price in work.prices:
        if price.paid is not None and work.openings:
            names = (price.material, f"{price.material}: whole packs and waste")
            yield from _sum_is(parts, Group.MATERIAL, names=names, cents=price.paid.cents)
    minutes = sum(
        (Fraction(step.minutes * step.people) for opening in work.openings for step in opening.steps),
        Fraction(0),
    )
    mean = Fraction(sum(wage.cents for wage in work.crew.wages), len(work.crew.wages))
    set_up = minutes / 60 * mean * (1 + work.crew.burden) * work.day.set_up / (work.day.day - work.day.set_up)
    yield from _sum_is(parts, Group.LABOUR, names=("set-up and travel",), cents=int(set_up + Fraction(1, 2)))
    for charge in work.shared:
        own = sum(c.amount.cents for o in work.openings for c in o.charges if c.name == charge.name)
        yield from _sum_is(parts, Group.OTHER, names=(charge.name,), cents=charge.total.cents + own)


def _sum_is(parts: list[CostPart], group: Group, *, names: tuple[str, ...], cents: int) -> Iterator[str]:
    found = sum(part.amount.cents for part in parts if part.group is group and part.name in names)
    if found != cents:
        yield f"{names[-1]} comes to {found} cents over the openings, not {cents}."
