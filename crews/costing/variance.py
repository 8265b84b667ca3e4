"""Why did an opening cost something else than planned: price, quantity, time or rate. Pure."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from crews.costing.cost import CostPart, Group, OpeningCost
from projects.quantities.money import Money, half_up


@dataclass(frozen=True, slots=True)
class VarianceLine:
    """One line's difference; the five amounts sum to `actual` - `planned`.

    Materials differ by `quantity` (at the planned price) and `price`; labour by `time` (at the planned rate)
    and `rate`; everything else by `other`.
    """

    group: Group
    name: str
    planned: Money
    actual: Money
    price: Money
    quantity: Money
    time: Money
    rate: Money
    other: Money

    @property
    def difference(self) -> Money:
        """Return actual less planned: positive is dearer."""
        return self.actual - self.planned

    @property
    def amounts(self) -> tuple[Money, ...]:
        """Return price, quantity, time, rate, other."""
        return self.price, self.quantity, self.time, self.rate, self.other


@dataclass(frozen=True, slots=True)
class Variance:
    """An opening's lines, planned and actual, side by side."""

    mark: str
    lines: tuple[VarianceLine, ...]


def explain(planned: OpeningCost, actual: OpeningCost) -> Variance:
    """Return why `actual` differs from `planned`, line by line, in the plan's order, additions last.

    A line that only one side has is all quantity or time.
    """
    before = {(part.group, part.name): part for part in planned.parts}
    after = {(part.group, part.name): part for part in actual.parts}
    keys = [*before, *(key for key in after if key not in before)]
    lines = (
        _line(
            before[key] if key in before else _nothing_of(after[key]),
            after[key] if key in after else _nothing_of(before[key]),
        )
        for key in keys
    )
    return Variance(planned.mark, tuple(lines))


def faults(planned: OpeningCost, actual: OpeningCost, variance: Variance) -> tuple[str, ...]:
    """Return what is wrong with `variance`, a sentence each: amounts sum to lines, lines to the whole."""
    wrong = [
        f"{line.name}: the amounts do not sum to the difference."
        for line in variance.lines
        if sum(amount.cents for amount in line.amounts) != line.difference.cents
    ]
    total = sum(line.difference.cents for line in variance.lines)
    if total != (actual.total - planned.total).cents:
        wrong.append(f"The lines of {variance.mark} do not sum to its difference.")
    return tuple(wrong)


def _line(before: CostPart, after: CostPart) -> VarianceLine:
    difference = after.amount - before.amount
    by_quantity = _by_quantity(before, after, difference)
    by_rate = difference - by_quantity
    none = Money(0, difference.currency)
    line = VarianceLine(
        before.group, before.name, before.amount, after.amount,
        price=none, quantity=none, time=none, rate=none, other=none,
    )  # fmt: skip
    match before.group:
        case Group.MATERIAL:
            return replace(line, quantity=by_quantity, price=by_rate)
        case Group.LABOUR:
            return replace(line, time=by_quantity, rate=by_rate)
        case Group.OTHER:
            return replace(line, other=difference)


def _by_quantity(before: CostPart, after: CostPart, difference: Money) -> Money:
    """Return the part of `difference` at the planned rate; all or nothing where only one of both changed."""
    if before.is_share or after.is_share or before.cents_per_unit == after.cents_per_unit:
        return difference
    if before.quantity == after.quantity:
        return Money(0, difference.currency)
    return Money(half_up((after.quantity - before.quantity) * before.cents_per_unit), difference.currency)


def _nothing_of(part: CostPart) -> CostPart:
    """Return `part` with nothing used, to stand on the side that lacks it."""
    return replace(part, quantity=Fraction(0), amount=Money(0, part.amount.currency))
