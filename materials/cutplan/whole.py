"""The cut problem in whole numbers, the kerf inside each piece and roll, equal lengths as one. Pure."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from materials.cutplan.problem import CutProblem, Number

Pattern = tuple[tuple[int, int], ...]
"""(index of the size, how many) pairs, longest size first."""


@dataclass(frozen=True, slots=True)
class Stock:
    """One kind of roll, or one offcut. `room` counts in steps, `length` in fine units."""

    name: str
    length: int
    room: int
    cost: int
    available: int | None


@dataclass(frozen=True, slots=True)
class Layout:
    """One stock cut after one pattern, `times` over."""

    stock: int
    pattern: Pattern
    times: int


@dataclass(frozen=True, slots=True)
class WholeProblem:
    """Sizes longest first; n pieces fit where the sum of their sizes is at most the room.

    That is the identity: sum + (n - 1) kerf <= length where sum of (piece + kerf) <= length + kerf.
    A fine unit is 1 / `fineness`; a step is `step` fine units; a cost unit is 1 / `cost_fineness`.
    """

    stocks: tuple[Stock, ...]
    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    step: int
    usable: int
    cost_fineness: int

    def filled(self, pattern: Pattern) -> int:
        """Return how many steps of room `pattern` takes."""
        return sum(self.sizes[index] * count for index, count in pattern)

    def usable_left(self, stock: Stock, filled: int) -> int:
        """Return what `stock` leaves after `filled` steps, in fine units; 0 where it is not worth keeping."""
        left = stock.length - filled * self.step
        return left if left >= max(self.usable, 0) else 0

    def score(self, layouts: Iterable[Layout]) -> tuple[int, int, int, int]:
        """Return what plans are judged by, less is better.

        Cost, then usable leftover in all and in one piece (both negative), then the number of patterns.
        """
        cost = usable = largest = patterns = 0
        for layout in layouts:
            stock = self.stocks[layout.stock]
            cost += stock.cost * layout.times
            left = self.usable_left(stock, self.filled(layout.pattern))
            usable += left * layout.times
            largest = max(largest, left)
            patterns += 1
        return cost, -usable, -largest, patterns


def in_whole_numbers(problem: CutProblem) -> WholeProblem:
    """Return `problem` scaled without loss; offcuts come first, then rolls, each from short to long."""
    fineness = _common_denominator(
        [problem.kerf, problem.usable_offcut]
        + [stock.length for stock in problem.stock]
        + [piece.length for piece in problem.pieces]
    )
    cost_fineness = _common_denominator([roll.cost for roll in problem.rolls])
    kerf = int(problem.kerf * fineness)
    wanted: Counter[int] = Counter()
    for piece in problem.pieces:
        wanted[int(piece.length * fineness) + kerf] += piece.count
    sizes = sorted((size for size, count in wanted.items() if count), reverse=True)
    step = math.gcd(*sizes) or 1
    total = wanted.total()

    def stock(name: str, length: Number, cost: Number, available: int | None) -> Stock:
        fine = int(length * fineness)
        plenty = available is None or available >= total
        return Stock(
            name=name,
            length=fine,
            room=(fine + kerf) // step,
            cost=int(cost * cost_fineness),
            available=None if plenty else available,
        )

    offcuts = [stock(o.name, o.length, 0, 1) for o in sorted(problem.offcuts, key=lambda o: o.length)]
    rolls = [
        stock(r.name, r.length, r.cost, r.available) for r in sorted(problem.rolls, key=lambda r: r.length)
    ]
    return WholeProblem(
        stocks=(*offcuts, *rolls),
        sizes=tuple(size // step for size in sizes),
        counts=tuple(wanted[size] for size in sizes),
        step=step,
        usable=int(problem.usable_offcut * fineness),
        cost_fineness=cost_fineness,
    )


def _common_denominator(numbers: Iterable[Number]) -> int:
    return math.lcm(*(Fraction(number).denominator for number in numbers))
