"""Deal a plan's pieces to the houses: equal lengths may change places, so each roll gets few houses. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from materials.cutplan.whole import Layout, Pattern, WholeProblem


def dealt(problem: WholeProblem, layouts: Iterable[Layout]) -> list[Layout]:
    """Return `layouts` of the merged problem as layouts of `problem`, in which sizes may repeat.

    Roll by roll, the house that can give most of what the roll still wants gives it.
    """
    if len(set(problem.sizes)) == len(problem.sizes):
        return list(layouts)
    kinds: dict[int, list[int]] = {}
    for index, size in enumerate(problem.sizes):
        kinds.setdefault(size, []).append(index)
    hand = _Hand(problem, list(kinds.values()))
    rolls = Counter(
        (layout.stock, hand.deal(layout.pattern)) for layout in layouts for _ in range(layout.times)
    )
    return [Layout(stock, pattern, times) for (stock, pattern), times in rolls.items()]


class _Hand:
    """The pieces of every house that are not dealt yet; `kinds` are the houses' entries by merged size."""

    def __init__(self, problem: WholeProblem, kinds: list[list[int]]) -> None:
        self.problem = problem
        self.kinds = kinds
        self.counts = list(problem.counts)

    def deal(self, pattern: Pattern) -> Pattern:
        """Return the houses' pieces that make up `pattern`, and strike them off."""
        wanted = dict(pattern)
        given: Counter[int] = Counter()
        while any(wanted.values()):
            offers = self._offers(wanted)
            house = max(offers, key=lambda house: offers[house])
            for size, index, count in list(self._pieces_of(house, wanted)):
                given[index] += count
                self.counts[index] -= count
                wanted[size] -= count
        return tuple(sorted(given.items()))

    def _offers(self, wanted: dict[int, int]) -> Counter[str]:
        """Return by house how many of the wanted pieces it could give, longer ones counting more."""
        offers: Counter[str] = Counter()
        for size, count in wanted.items():
            has: Counter[str] = Counter()
            for index in self.kinds[size]:
                has[self.problem.houses[index]] += self.counts[index]
            for house, number in has.items():
                offers[house] += min(count, number) * self.problem.sizes[self.kinds[size][0]]
        return offers

    def _pieces_of(self, house: str, wanted: dict[int, int]) -> Iterator[tuple[int, int, int]]:
        """Yield (merged size, entry, number) of what the house gives of the wanted."""
        for size, count in wanted.items():
            left = count
            for index in self.kinds[size]:
                could = min(left, self.counts[index])
                if could and self.problem.houses[index] == house:
                    left -= could
                    yield size, index, could
