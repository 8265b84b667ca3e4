"""Give the lengths of a layout the names of the pieces that have them. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from materials.cutplan.plan import Cut
from materials.cutplan.problem import CutProblem, Number, plain
from materials.cutplan.whole import Layout, WholeProblem, kinds_of


@dataclass(slots=True)
class _Waiting:
    """A named piece that is still to be cut `count` times."""

    name: str
    count: int


def named_cuts(problem: CutProblem, whole: WholeProblem, layouts: Sequence[Layout]) -> tuple[Cut, ...]:
    """Return the cuts of named pieces, equal ones as one; offcuts before rolls, full before part."""
    by_size = [
        (length, [_Waiting(piece.name, piece.count) for piece in pieces])
        for (length, _), pieces in kinds_of(problem).items()
    ]
    return tuple(
        cut
        for layout in sorted(layouts, key=lambda it: (it.stock, -whole.filled(it.pattern), it.pattern))
        for cut in _cuts_of(problem, whole, layout=layout, by_size=by_size)
    )


def _cuts_of(
    problem: CutProblem,
    whole: WholeProblem,
    *,
    layout: Layout,
    by_size: Sequence[tuple[Number, list[_Waiting]]],
) -> Iterator[Cut]:
    name = whole.stocks[layout.stock].name
    length = next(stock.length for stock in problem.stock if stock.name == name)
    taken = sum((by_size[index][0] + problem.kerf) * count for index, count in layout.pattern)
    made: Counter[tuple[tuple[str, int], ...]] = Counter()
    for _ in range(layout.times):
        pieces = (piece for index, count in layout.pattern for piece in _next(by_size[index][1], count))
        made[tuple(pieces)] += 1
    for pieces_of_one, times in made.items():
        yield Cut(name, times, dict(pieces_of_one), plain(max(0, length - taken)))


def _next(waiting: list[_Waiting], count: int) -> Iterator[tuple[str, int]]:
    """Yield names and numbers of the next `count` pieces of one length, and strike them off."""
    while count:
        piece = waiting[0]
        taken = min(count, piece.count)
        piece.count -= taken
        count -= taken
        if not piece.count:
            waiting.pop(0)
        yield piece.name, taken
