"""Keep a house's strips together: rolls filled house by house, each cut to its end before the next. Pure.

Laid end to end, rolls and houses meet as often as there are rolls and houses, less one for each time that a
house ends with its roll. So houses whose strips together make whole rolls are laid one after another.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from materials.cutplan.bound import material_cover
from materials.cutplan.columns import Rest
from materials.cutplan.fullest import fullest_pattern, plenty_first
from materials.cutplan.tidy import fillings_of
from materials.cutplan.whole import Layout, Pattern, WholeProblem

LAST_TOGETHER = (4, 8, 16, 32)
MOST_TOGETHER = 4
MOST_AHEAD = 8
MOST_COMPARED = 40
MOST_HELPERS = 6
SPARE = 40
"""The part of all that is left over which may be lost in the rolls before the last."""


def house_by_house(problem: WholeProblem) -> Iterator[list[Layout]]:
    """Yield plans of the cheapest rolls by length, filled house by house.

    In the first plan all of them are, where that comes out; in the later ones ever more of the last rolls are
    filled from what is left of all houses.
    """
    rest = Rest.of(problem)
    cover = material_cover(problem, rest.counts, rest.available)
    if cover is None:
        return
    rolls = [index for index, number in enumerate(cover.numbers) for _ in range(number)]
    offcuts = sum(1 for index in rolls if not problem.stocks[index].cost)
    tape = _Tape(problem, rolls, offcuts=offcuts)
    cut = list(tape.cut_all())
    layouts = [Layout(rolls[which], pattern, times) for which, pattern, times in cut]
    if not tape.has_pieces():
        yield layouts
    for last in LAST_TOGETHER:
        kept = layouts[: max(0, len(layouts) - last)]
        # an offcut that holds nothing was passed over, so rolls are counted by where they lie
        stocks = rolls[next((which + times for which, _, times in reversed(cut[: len(kept)])), 0) :]
        pieces = dict(enumerate(rest.after(kept).counts))
        for filled in fillings_of(problem, stocks, {i: count for i, count in pieces.items() if count}):
            yield [*kept, *(Layout(stock, pattern, 1) for stock, pattern in filled)]


class _Tape:
    """The rolls in order, offcuts first; the houses being cut, the last opened last; and those that wait."""

    def __init__(self, problem: WholeProblem, rolls: Sequence[int], *, offcuts: int) -> None:
        self.problem = problem
        self.rolls = rolls
        self.rooms = [problem.stocks[index].room for index in rolls]
        self.offcuts = offcuts
        self.counts = list(problem.counts)
        self.kinds: dict[str, list[int]] = {}
        for index, house in enumerate(problem.houses):
            self.kinds.setdefault(house, []).append(index)
        self.waiting = sorted(self.kinds, key=lambda house: -self._length([house]))
        self.open: list[str] = []
        self.next: list[str] = []
        self.spare = max(0, sum(self.rooms) - self._length(self.waiting)) // SPARE

    def has_pieces(self) -> bool:
        """Return whether anything is left to cut."""
        return any(self.counts)

    def cut_all(self) -> Iterator[tuple[int, Pattern, int]]:
        """Yield what is cut: (the first roll, its pieces, how many rolls alike)."""
        which = 0
        while which < len(self.rooms) and self.has_pieces():
            pattern, times = self._cut(which) if which >= self.offcuts else self._cut_offcut(which)
            for index, taken in pattern:
                self.counts[index] -= taken * times
            if pattern:
                yield which, pattern, times
            which += times

    def _cut_offcut(self, which: int) -> tuple[Pattern, int]:
        """Return the pieces that the house cuts from an offcut which fills it best."""
        room = self.rooms[which]
        patterns = [self._fullest([house], room) for house in self.waiting[:MOST_COMPARED]]
        return max(patterns, key=self.problem.filled), 1

    def _cut(self, which: int) -> tuple[Pattern, int]:
        """Return the pieces cut from roll `which`, and from how many: whole, if one house more allows it."""
        self.open = [house for house in self.open if self._length([house])]
        room = self.rooms[which]
        while self._length(self.open) < room and self.waiting:
            self._open(self._following(which))
        alike = self._alike(which)
        if alike is not None:
            return alike
        pattern = self._filling(room)
        if self._wasted(pattern, room) > self.spare:
            pattern = self._helped(room) or pattern
        self.spare = max(0, self.spare - self._wasted(pattern, room))
        return pattern, 1

    def _alike(self, which: int) -> tuple[Pattern, int] | None:
        """Return a whole filling that one house has several times over, and how often; None: it has none."""
        room = self.rooms[which]
        # rolls of one length may be of several kinds, of which one is had a few times only
        same = sum(1 for _ in itertools.takewhile(self.rolls[which].__eq__, self.rolls[which:-1]))
        times = min(same, self._length(self.open) // room) if len(self.open) == 1 else 0
        while times > 1:
            pattern = self._fullest(self.open, room, times=times)
            if not self._wasted(pattern, room):
                return pattern, times
            times //= 2
        return None

    def _helped(self, room: int) -> Pattern:
        """Return a whole filling with the help of a waiting house, which is opened; empty: none helps."""
        for house in self.waiting[-MOST_HELPERS:]:
            self.open.append(house)
            pattern = self._filling(room)
            self.open.pop()
            if not self._wasted(pattern, room):
                self._open(house)
                return pattern
        return ()

    def _wasted(self, pattern: Pattern, room: int) -> int:
        return room - self.problem.filled(pattern)

    def _filling(self, room: int) -> Pattern:
        """Return what fits `room`: the older houses whole where they do, else of all that are open."""
        old = [(i, self.counts[i]) for house in self.open[:-1] for i in self.kinds[house] if self.counts[i]]
        left = room - self.problem.filled(tuple(old))
        if old and left >= 0:
            pattern = (*old, *self._fullest(self.open[-1:], left))
            if not self._wasted(pattern, room):
                return tuple(sorted(pattern))
        return self._fullest(self.open, room)

    def _fullest(self, houses: Sequence[str], room: int, *, times: int = 1) -> Pattern:
        """Return what fits best, with as much of the older houses as goes, and `times` over."""
        order = [index for house in houses for index in self._plenty_first(house)]
        sizes = [self.problem.sizes[index] for index in order]
        pattern = fullest_pattern(sizes, [self.counts[index] // times for index in order], room)
        return tuple(sorted((order[position], taken) for position, taken in pattern))

    def _plenty_first(self, house: str) -> list[int]:
        kinds = self.kinds[house]
        sizes, counts = [self.problem.sizes[i] for i in kinds], [self.counts[i] for i in kinds]
        return [kinds[position] for position in plenty_first(sizes, counts)]

    def _length(self, houses: Sequence[str]) -> int:
        return sum(self.problem.sizes[i] * self.counts[i] for house in houses for i in self.kinds[house])

    def _following(self, which: int) -> str:
        """Return the house to open next for roll `which`."""
        if not self.next:
            self.next = self._whole_rolls(which) or self.waiting[:1]
        return self.next[0]

    def _open(self, house: str) -> None:
        self.waiting.remove(house)
        self.open.append(house)
        self.next = self.next[1:] if house in self.next[:1] else []

    def _whole_rolls(self, which: int) -> list[str]:
        """Return the fewest waiting houses that end with a roll, laid after the open ones; empty: none do."""
        ends, end = 0, -self._length(self.open)
        for room in self.rooms[which : which + MOST_AHEAD]:
            end += room
            ends |= 1 << end if end > 0 else 0
        if not ends:
            return []
        mask = (1 << (end + 1)) - 1
        houses = self.waiting[-MOST_COMPARED:]
        tables = [[1] + [0] * MOST_TOGETHER]
        for house in houses:
            before, length = tables[-1], self._length([house])
            tables.append(
                [1] + [(before[n] | before[n - 1] << length) & mask for n in range(1, MOST_TOGETHER + 1)]
            )
        for number in range(1, MOST_TOGETHER + 1):
            met = tables[-1][number] & ends
            if met:
                return list(self._traced(houses, tables, number=number, end=met.bit_length() - 1))
        return []

    def _traced(
        self, houses: Sequence[str], tables: Sequence[Sequence[int]], *, number: int, end: int
    ) -> Iterator[str]:
        """Yield the `number` houses whose lengths sum to `end`, by the sums that the tables hold."""
        for house, before in zip(reversed(houses), reversed(tables[:-1]), strict=True):
            if not before[number] >> end & 1:
                end -= self._length([house])
                number -= 1
                yield house
