"""The cut problem in whole numbers, the kerf inside each piece and roll, equal lengths as one. Pure."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import NamedTuple

from materials.cutplan.problem import CutProblem, Number, Piece

Pattern = tuple[tuple[int, int], ...]
"""(index of the size, how many) pairs, longest size first."""


FINE, COARSE = 1 << 18, 1 << 16
GRADES = 32
"""A loss of less than this part of all leftover is none where houses are to be kept together."""


@dataclass(frozen=True, slots=True)
class Stock:
    """One kind of roll, or one offcut. `room` counts in steps, `length` in fine units."""

    name: str
    length: int
    room: int
    cost: int
    available: int | None


class Layout(NamedTuple):
    """One stock cut after one pattern, `times` over."""

    stock: int
    pattern: Pattern
    times: int


@dataclass(frozen=True, slots=True)
class WholeProblem:
    """Sizes longest first, one entry per size and house. n pieces fit where their sizes are at most the room.

    That is the identity: sum + (n - 1) kerf <= length where sum of (piece + kerf) <= length + kerf.
    A fine unit is 1 / `fineness`; a step is `step` fine units; a cost unit is 1 / `cost_fineness`.
    """

    stocks: tuple[Stock, ...]
    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    houses: tuple[str, ...]
    fineness: int
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

    def houses_in(self, pattern: Pattern) -> int:
        """Return how many houses have pieces in `pattern`."""
        return len({self.houses[index] for index, _ in pattern})

    def score(self, layouts: Iterable[Layout]) -> tuple[int, ...]:
        """Return what plans are judged by, less is better.

        Cost, then usable leftover in all and in one piece (both negative), then on how many rolls the houses
        lie, then the number of patterns. Of several houses, a small loss of leftover counts after the rolls.
        """
        cost = slack = usable = largest = houses = patterns = 0
        for layout in layouts:
            stock = self.stocks[layout.stock]
            filled = self.filled(layout.pattern)
            left = self.usable_left(stock, filled)
            cost += stock.cost * layout.times
            slack += (stock.room - filled) * self.step * layout.times
            usable += left * layout.times
            largest = max(largest, left)
            houses += self.houses_in(layout.pattern) * layout.times
            patterns += 1
        kept = (-usable, -largest)
        if self.has_houses and slack:
            kept = ((slack - usable) * GRADES // slack, (slack - largest) * GRADES // slack)
        return cost, *kept, houses, -usable, -largest, patterns

    def loses_little(self, layouts: Iterable[Layout]) -> bool:
        """Return whether nearly all that is left over is in one usable piece, or none can be usable."""
        total = largest = 0
        for layout in layouts:
            left = (self.stocks[layout.stock].room - self.filled(layout.pattern)) * self.step
            total += left * layout.times
            largest = max(largest, left)
        return total < self.usable or largest * GRADES >= total * (GRADES - 1)

    @property
    def has_houses(self) -> bool:
        """Return whether the pieces are for more than one house."""
        return len(set(self.houses)) > 1

    def coarse_first(self) -> Iterator[WholeProblem]:
        """Yield the problem with sizes rounded up to a coarser grid, where its own is very fine; then itself.

        What fits there fits here too, and is found much sooner.
        """
        longest = max(stock.room for stock in self.stocks)
        if longest > FINE:
            factor = -(-longest // COARSE)
            yield replace(
                self,
                stocks=tuple(replace(stock, room=stock.room // factor) for stock in self.stocks),
                sizes=tuple(-(-size // factor) for size in self.sizes),
                step=self.step * factor,
            )
        yield self

    def merged(self) -> WholeProblem:
        """Return the problem with all houses as one: an entry per size."""
        wanted: Counter[int] = Counter()
        for size, count in zip(self.sizes, self.counts, strict=True):
            wanted[size] += count
        return replace(self, sizes=tuple(wanted), counts=tuple(wanted.values()), houses=("",) * len(wanted))


def in_whole_numbers(problem: CutProblem) -> WholeProblem:
    """Return `problem` scaled without loss; offcuts come first, then rolls, each from short to long."""
    fineness = _common_denominator(
        [problem.kerf, problem.usable_offcut, problem.lap]
        + [stock.length for stock in problem.stock]
        + [piece.length for piece in problem.pieces]
    )
    cost_fineness = _common_denominator([roll.cost for roll in problem.rolls])
    kerf = int(problem.kerf * fineness)
    kinds = kinds_of(problem)
    sizes = [int(length * fineness) + kerf for length, _ in kinds]
    counts = [sum(piece.count for piece in pieces) for pieces in kinds.values()]
    step = math.gcd(*sizes, *_lengths_of_parts(problem, fineness)) or 1
    total = sum(counts)

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
        counts=tuple(counts),
        houses=tuple(house for _, house in kinds),
        fineness=fineness,
        step=step,
        usable=int(problem.usable_offcut * fineness),
        cost_fineness=cost_fineness,
    )


def _lengths_of_parts(problem: CutProblem, fineness: int) -> Iterator[int]:
    """Yield, where pieces may be spliced, all lengths that the parts' lengths depend on."""
    if any(piece.may_splice for piece in problem.pieces):
        yield int((problem.lap + problem.kerf) * fineness)
        for stock in problem.stock:
            yield int((stock.length + problem.kerf) * fineness)


def kinds_of(problem: CutProblem) -> dict[tuple[Number, str], list[Piece]]:
    """Return the pieces that are wanted by (length, house), longest first, houses in order of appearance."""
    kinds: dict[tuple[Number, str], list[Piece]] = {}
    for piece in sorted(problem.pieces, key=lambda piece: -piece.length):
        if piece.count:
            kinds.setdefault((piece.length, piece.house), []).append(piece)
    return kinds


def _common_denominator(numbers: Iterable[Number]) -> int:
    return math.lcm(*(Fraction(number).denominator for number in numbers))
