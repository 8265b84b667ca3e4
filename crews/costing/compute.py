"""Work out what each opening of a house costs, house-wide costs shared to the cent. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from crews.costing.cost import CostPart, Group, HouseCost, OpeningCost, summed
from crews.costing.inputs import HouseWork, MaterialPrice, Number, OpeningWork
from projects.quantities.money import Money, half_up, shares

Parts = dict[str, list[CostPart]]


def cost_house(work: HouseWork) -> HouseCost:
    """Return the cost of every opening, in the order given; the openings sum to the house to the cent."""
    parts: Parts = {opening.mark: list(_own_parts(work, opening)) for opening in work.openings}
    for price in work.prices:
        _share_packs(work, price, parts)
    _share_set_up(work, parts)
    for charge in work.shared:
        _share(
            parts, charge.weights, group=Group.OTHER, name=charge.name, total=charge.total, basis=charge.basis
        )
    ordered = {group: place for place, group in enumerate(Group)}
    return HouseCost(
        tuple(
            OpeningCost(mark, tuple(sorted(own, key=lambda part: ordered[part.group])), work.currency)
            for mark, own in parts.items()
        ),
        work.currency,
    )


def _own_parts(work: HouseWork, opening: OpeningWork) -> Iterator[CostPart]:
    """Yield what the opening takes by itself."""
    prices = {price.material: price for price in work.prices}
    for use in opening.materials:
        price = prices[use.material]
        yield _line(
            work, Group.MATERIAL, use.material, quantity=use.quantity, unit=price.unit,
            cents_per_unit=price.cents_per_unit, basis=use.basis,
        )  # fmt: skip
    for step in opening.steps:
        yield _line(
            work, Group.LABOUR, step.step, quantity=step.person_minutes, unit="person-minute",
            cents_per_unit=work.crew.cents_per_minute, basis=f"{told(step.minutes)} min x {step.people}",
        )  # fmt: skip
    for charge in opening.charges:
        yield _line(
            work, Group.OTHER, charge.name, quantity=1, unit="each",
            cents_per_unit=Fraction(charge.amount.cents), basis=charge.basis,
        )  # fmt: skip


def _line(
    work: HouseWork,
    group: Group,
    name: str,
    *,
    quantity: Number,
    unit: str,
    cents_per_unit: Fraction,
    basis: str,
) -> CostPart:
    exact = Fraction(quantity)
    amount = Money(half_up(exact * cents_per_unit), work.currency)
    return CostPart(group, name, exact, unit, cents_per_unit, amount, basis)


def _share_packs(work: HouseWork, price: MaterialPrice, parts: Parts) -> None:
    """Share what the house paid for whole packs and did not use, by the use of each opening."""
    if price.paid is None:
        return
    used = {
        mark: part
        for mark, own in parts.items()
        for part in own
        if part.group is Group.MATERIAL and part.name == price.material
    }
    rest = price.paid - summed((part.amount for part in used.values()), work.currency)
    weights = _whole([(mark, part.quantity) for mark, part in used.items()])
    _share(
        parts, weights or [(mark, 1) for mark in parts], group=Group.MATERIAL,
        name=f"{price.material}: whole packs and waste", total=rest,
        basis=f"packs paid {price.paid.as_text}, less what the openings use",
    )  # fmt: skip


def _share_set_up(work: HouseWork, parts: Parts) -> None:
    """Share set-up, truck and clean-up over the openings by their person-minutes."""
    worked = [
        (opening.mark, sum((Fraction(step.person_minutes) for step in opening.steps), Fraction(0)))
        for opening in work.openings
    ]
    minutes = sum((spent for _, spent in worked), Fraction(0)) * work.day.per_worked_minute
    if minutes:
        _share(
            parts, _whole(worked), group=Group.LABOUR, name="set-up and travel",
            total=Money(half_up(minutes * work.crew.cents_per_minute), work.currency),
            basis=f"{work.day.set_up} of {work.day.day} min a day, by person-minutes",
        )  # fmt: skip


def _share(
    parts: Parts, weights: Sequence[tuple[str, int]], *, group: Group, name: str, total: Money, basis: str
) -> None:
    """Add each opening's share of `total`, by largest remainder; openings without a weight get no line."""
    marks = [mark for mark, _ in weights]
    numbers = [weight for _, weight in weights]
    if not any(numbers):
        numbers = [1] * len(numbers)
    if not total.cents:
        return
    for mark, weight, amount in zip(marks, numbers, shares(total, numbers), strict=True):
        if weight:
            parts[mark].append(
                CostPart(
                    group=group,
                    name=name,
                    quantity=Fraction(weight, sum(numbers)),
                    unit="of the house",
                    cents_per_unit=Fraction(total.cents),
                    amount=amount,
                    basis=basis,
                    is_share=True,
                )
            )


def _whole(weights: Sequence[tuple[str, Number]]) -> list[tuple[str, int]]:
    """Return `weights` scaled to whole numbers in the same proportion."""
    scale = math.lcm(*(Fraction(weight).denominator for _, weight in weights))
    return [(mark, int(weight * scale)) for mark, weight in weights]


def told(number: Number) -> str:
    """Return minutes as people write them: `8`, `2.5`."""
    return f"{float(number):g}"
