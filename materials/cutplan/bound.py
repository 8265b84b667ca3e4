"""What must any cut plan cost at least, and which rolls would that buy. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from materials.cutplan.fullest import LARGEST_TABLE, fullest_sum, reachable
from materials.cutplan.whole import WholeProblem

MOST_BRANCHES = 20_000
MOST_THRESHOLDS = 40


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of roll as a bound sees it: what one can contribute at most, its cost, how many there are."""

    worth: int
    cost: int
    available: int | None = None


@dataclass(frozen=True, slots=True)
class Cover:
    """`cost`: no choice of rolls is cheaper. `numbers`: a cheap choice, one number per kind."""

    cost: int
    numbers: tuple[int, ...]


def material_cover(
    problem: WholeProblem, counts: Sequence[int], available: Sequence[int | None]
) -> Cover | None:
    """Return the cheapest rolls whose fullest fillings hold the length of `counts` pieces; None: none do."""
    return _cover_above(problem, counts=counts, available=available, threshold=0)


def later_bounds(problem: WholeProblem) -> Iterator[tuple[int | None, tuple[int, ...]]]:
    """Yield further proven least costs (None: no plan exists), one per threshold length, with their weights.

    A piece that no piece of the threshold's length can lie beside counts as a whole roll; shorter pieces
    count nothing. Source: the bound L2 of Martello and Toth (1990), here with several roll lengths.
    """
    longest = max(stock.room for stock in problem.stocks)
    available = [stock.available for stock in problem.stocks]
    short = [size for size in problem.sizes if 2 * size <= longest]
    for threshold in (-(-longest // 2), *short[:: 1 + len(short) // MOST_THRESHOLDS]):
        cover = _cover_above(problem, counts=problem.counts, available=available, threshold=threshold)
        yield None if cover is None else cover.cost, weights_above(problem, threshold)


def weights_above(problem: WholeProblem, threshold: int) -> tuple[int, ...]:
    """Return what each size counts in the bound of a threshold; at 0, what it is long."""
    longest = max(stock.room for stock in problem.stocks)

    def weight(size: int) -> int:
        if size > longest - threshold:
            return longest
        return size if size >= threshold else 0

    return tuple(weight(size) for size in problem.sizes)


def cheapest_cover(need: int, kinds: Sequence[Kind]) -> Cover | None:
    """Return the cheapest numbers of each kind whose worths sum to at least `need`; None where they cannot.

    Exact, unless the choice is so wide that only the cost in proportion is proven.
    """
    numbers = [0] * len(kinds)
    priced = []
    for index, kind in enumerate(kinds):
        if kind.worth > 0 and need > 0 and kind.cost == 0:
            wanted = -(-need // kind.worth)
            numbers[index] = wanted if kind.available is None else min(wanted, kind.available)
            need -= numbers[index] * kind.worth
        elif kind.worth > 0:
            priced.append(index)
    priced.sort(key=lambda i: (Fraction(kinds[i].cost, kinds[i].worth), -kinds[i].worth))
    search = _CoverSearch([kinds[i] for i in priced])
    search.run(0, need=need, cost=0)
    if search.best is None:
        return None
    for index, number in zip(priced, search.best, strict=False):
        numbers[index] = number
    return Cover(search.least if search.complete else search.in_proportion(0, need), tuple(numbers))


def _cover_above(
    problem: WholeProblem, *, counts: Sequence[int], available: Sequence[int | None], threshold: int
) -> Cover | None:
    """Return the cover where a piece is worth a whole roll, its length or nothing, by `threshold`."""
    longest = max(stock.room for stock in problem.stocks)
    known = [(size, count) for size, count in zip(problem.sizes, counts, strict=True) if count]
    alone = [(size, count) for size, count in known if size > longest - threshold]
    beside = [(size, count) for size, count in known if threshold <= size <= longest - threshold]
    need = sum(size * count for size, count in beside) + longest * sum(count for _, count in alone)
    smallest_alone = min((size for size, _ in alone), default=longest + 1)
    tabled = longest <= LARGEST_TABLE
    sums = reachable([s for s, _ in beside], [c for _, c in beside], longest if tabled else 0)

    def worth(room: int) -> int:
        if room >= smallest_alone:
            return longest
        return fullest_sum(sums, room) if tabled else room

    kinds = [Kind(worth(s.room), s.cost, left) for s, left in zip(problem.stocks, available, strict=True)]
    return cheapest_cover(need, kinds)


class _CoverSearch:
    """Depth first over the kinds, cheapest for its worth first; the rest costs at least in proportion."""

    def __init__(self, kinds: Sequence[Kind]) -> None:
        self.kinds = kinds
        self.grain = math.gcd(*(kind.cost for kind in kinds)) or 1
        self.chosen: list[int] = []
        self.best: list[int] | None = None
        self.least = 0
        self.branches = 0
        self.complete = True

    def in_proportion(self, index: int, need: int) -> int:
        """Return the least cost of `need` from kind `index` on, availability aside, in whole grains."""
        kind = self.kinds[index]
        return -(-need * kind.cost // (kind.worth * self.grain)) * self.grain

    def run(self, index: int, *, need: int, cost: int) -> None:
        """Try every number of kind `index`, many first, that can still beat the best choice."""
        if need <= 0:
            if self.best is None or cost < self.least:
                self.best, self.least = list(self.chosen), cost
            return
        if index == len(self.kinds):
            return
        self.branches += 1
        if self.branches > MOST_BRANCHES and self.best is not None:
            self.complete = False
            return
        kind = self.kinds[index]
        most = -(-need // kind.worth)
        for number in range(most if kind.available is None else min(most, kind.available), -1, -1):
            left, spent = need - number * kind.worth, cost + number * kind.cost
            # fewer of this kind only leaves more to the dearer ones: once hopeless, hopeless for the rest
            if left > 0 and not self._can_win(index + 1, need=left, cost=spent):
                break
            self.chosen.append(number)
            self.run(index + 1, need=left, cost=spent)
            self.chosen.pop()

    def _can_win(self, index: int, *, need: int, cost: int) -> bool:
        """Return whether the kinds from `index` on can hold `need` and stay below the best cost."""
        rest = self.kinds[index:]
        limited = all(kind.available is not None for kind in rest)
        if limited and sum(kind.worth * (kind.available or 0) for kind in rest) < need:
            return False
        return self.best is None or cost + self.in_proportion(index, need) < self.least
