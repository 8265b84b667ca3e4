"""Quick cut plans to choose from: first-fit-decreasing and filling roll by roll. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from materials.cutplan.bound import material_cover
from materials.cutplan.columns import Rest
from materials.cutplan.fullest import anchored_pattern, balanced_pattern
from materials.cutplan.whole import Layout, Pattern, Stock, WholeProblem

Filling = Callable[[Sequence[int], Sequence[int], int], Pattern]


class _Supply:
    """How many of each stock are left to take."""

    def __init__(self, rest: Rest) -> None:
        self.left = list(rest.available)

    def has(self, index: int) -> bool:
        left = self.left[index]
        return left is None or left > 0

    def take(self, index: int, times: int = 1) -> None:
        left = self.left[index]
        if left is not None:
            self.left[index] = left - times


def first_fits(problem: WholeProblem) -> Iterator[list[Layout]]:
    """Yield a first-fit-decreasing plan per kind of roll, its rolls then downsized."""
    for main, stock in enumerate(problem.stocks):
        if stock.cost or stock.available is None:
            layouts = _first_fit(problem, main)
            if layouts is not None:
                yield downsized(problem, layouts)


def fillings(problem: WholeProblem) -> Iterator[list[Layout]]:
    """Yield plans that buy the cheapest cover and fill it roll by roll, short rolls first or long first."""
    for filling in (balanced_pattern, anchored_pattern):
        for short_first in (True, False):
            layouts = _fill(problem, Rest.of(problem), filling=filling, short_first=short_first)
            if layouts is not None:
                yield downsized(problem, layouts)


def fill_rest(problem: WholeProblem, rest: Rest) -> list[Layout] | None:
    """Return a quick plan of what is left, longest pieces first; None where the stock runs out."""
    return _fill(problem, rest, filling=anchored_pattern, short_first=True)


def downsized(problem: WholeProblem, layouts: Sequence[Layout]) -> list[Layout]:
    """Return the plan, each roll swapped for the cheapest that holds its pieces, the longest of equals."""
    supply = _Supply(Rest.of(problem))
    for layout in layouts:
        supply.take(layout.stock, layout.times)
    best: Counter[tuple[int, Pattern]] = Counter()
    for layout in layouts:
        filled = problem.filled(layout.pattern)
        for _ in range(layout.times):
            choices = [
                index
                for index, stock in enumerate(problem.stocks)
                if index == layout.stock or (stock.room >= filled and supply.has(index))
            ]
            chosen = min(choices, key=lambda index: _preference(problem.stocks[index]))
            if _preference(problem.stocks[chosen]) < _preference(problem.stocks[layout.stock]):
                supply.take(layout.stock, -1)
                supply.take(chosen)
            else:
                chosen = layout.stock
            best[chosen, layout.pattern] += 1
    return [Layout(stock, pattern, times) for (stock, pattern), times in best.items()]


def _preference(stock: Stock) -> tuple[int, int]:
    return stock.cost, -stock.room


def _first_fit(problem: WholeProblem, main: int) -> list[Layout] | None:
    """Return the plan that opens rolls of `main` where it can; None where the stock runs out."""
    supply = _Supply(Rest.of(problem))
    rolls: list[tuple[int, dict[int, int]]] = []
    rooms: list[int] = []
    for index, stock in enumerate(problem.stocks):
        if stock.cost == 0 and stock.available is not None:
            rolls += [(index, {}) for _ in range(stock.available)]
            rooms += [stock.room] * stock.available
            supply.take(index, stock.available)
    for kind, (size, count) in enumerate(zip(problem.sizes, problem.counts, strict=True)):
        left, roll = count, 0
        while left:
            is_new = roll == len(rolls)
            opened = _opened(problem, size, main=main, supply=supply) if is_new else rolls[roll][0]
            if opened is None:
                return None
            if is_new:
                rolls.append((opened, {}))
                rooms.append(problem.stocks[opened].room)
            taken = min(left, rooms[roll] // size)
            if taken:
                rolls[roll][1][kind] = taken
                rooms[roll] -= taken * size
                left -= taken
            roll += 1
    patterns = Counter((stock, tuple(pieces.items())) for stock, pieces in rolls if pieces)
    return [Layout(stock, pattern, times) for (stock, pattern), times in patterns.items()]


def _opened(problem: WholeProblem, size: int, *, main: int, supply: _Supply) -> int | None:
    """Return the roll opened for a piece of `size`: the main kind, else the cheapest for its room."""
    fitting = [i for i, stock in enumerate(problem.stocks) if stock.room >= size and supply.has(i)]
    if not fitting:
        return None
    kind = main if main in fitting else min(fitting, key=lambda i: _cost_per_room(problem.stocks[i]))
    supply.take(kind)
    return kind


def _cost_per_room(stock: Stock) -> Fraction:
    return Fraction(stock.cost, stock.room)


def _fill(problem: WholeProblem, rest: Rest, *, filling: Filling, short_first: bool) -> list[Layout] | None:
    """Return the plan of covers filled in turn until nothing is left; None where the stock runs out."""
    supply = _Supply(rest)
    counts = list(rest.counts)
    layouts: list[Layout] = []
    while any(counts):
        cover = material_cover(problem, counts, supply.left)
        if cover is None:
            return None
        bought = [(index, number) for index, number in enumerate(cover.numbers) if number]
        # offcuts first: they are paid for
        bought.sort(key=lambda item: (problem.stocks[item[0]].cost > 0, item[0] if short_first else -item[0]))
        before = len(layouts)
        for index, number in bought:
            layouts.extend(_filled_rolls(problem, index, number=number, counts=counts, filling=filling))
        for layout in layouts[before:]:
            supply.take(layout.stock, layout.times)
    return layouts


def _filled_rolls(
    problem: WholeProblem, index: int, *, number: int, counts: list[int], filling: Filling
) -> Iterator[Layout]:
    """Yield up to `number` rolls of one kind; takes from `counts`."""
    while number and any(counts):
        layout = next_layout(problem, index, number=number, counts=counts, filling=filling)
        if not layout.pattern:
            return
        for kind, taken in layout.pattern:
            counts[kind] -= taken * layout.times
        number -= layout.times
        yield layout


def next_layout(
    problem: WholeProblem, index: int, *, number: int, counts: Sequence[int], filling: Filling
) -> Layout:
    """Return the next of `number` rolls, over and over where it is whole: few patterns are quick to cut."""
    room = problem.stocks[index].room
    times = min(number, max(counts))
    while times > 1:
        pattern = filling(problem.sizes, [count // times for count in counts], room)
        if problem.filled(pattern) == room:
            return Layout(index, pattern, times)
        times //= 2
    return Layout(index, filling(problem.sizes, counts, room), 1)
