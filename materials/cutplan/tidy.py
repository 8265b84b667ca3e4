"""Gather what a plan leaves over into one long piece, by filling a few of its rolls anew. Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from materials.cutplan.fullest import fullest_pattern, plenty_first
from materials.cutplan.whole import Layout, Pattern, WholeProblem

FULL_ROLLS_TOO = (0, 1, 2, 3, 4, 6, 8)
MOST_WASTING = 12
MOST_ROUNDS = 4

Roll = tuple[int, Pattern]


def tidied(problem: WholeProblem, layouts: Sequence[Layout]) -> list[Layout]:
    """Return the plan, or a better one of the same rolls (by the problem's score) with less lost in them."""
    best = list(layouts)
    for _ in range(MOST_ROUNDS):
        better = next(
            (other for other in _refilled(problem, best) if problem.score(other) < problem.score(best)), None
        )
        if better is None:
            break
        best = better
    return best


def _refilled(problem: WholeProblem, layouts: Sequence[Layout]) -> Iterator[list[Layout]]:
    """Yield plans in which the rolls that waste, and some full ones of the same houses, are filled anew."""
    rolls = [(layout.stock, layout.pattern) for layout in layouts for _ in range(layout.times)]
    rolls.sort(key=lambda roll: _left(problem, roll))
    wasting = [roll for roll in rolls if _left(problem, roll)]
    if not 1 < len(wasting) <= MOST_WASTING:
        return
    houses = {problem.houses[index] for _, pattern in wasting for index, _ in pattern}
    full = rolls[: len(rolls) - len(wasting)]
    full.sort(key=lambda roll: len({problem.houses[index] for index, _ in roll[1]} - houses))
    for more in FULL_ROLLS_TOO:
        group = [*full[:more], *wasting]
        pieces: Counter[int] = Counter()
        for _, pattern in group:
            pieces.update(dict(pattern))
        for filled in fillings_of(problem, [stock for stock, _ in group], pieces):
            yield _counted([*filled, *full[more:]])


def fillings_of(
    problem: WholeProblem, stocks: Sequence[int], pieces: Mapping[int, int]
) -> Iterator[list[Roll]]:
    """Yield fillings of just these rolls with just these pieces, if they come out; the longest roll last."""
    stocks = sorted(stocks, key=lambda stock: problem.stocks[stock].room)
    for by_plenty in (True, False):
        counts = dict(pieces)
        filled = [(stock, _cut(problem, stock, counts, by_plenty=by_plenty)) for stock in stocks]
        if not any(counts.values()):
            yield [roll for roll in filled if roll[1]]


def _cut(problem: WholeProblem, stock: int, counts: dict[int, int], *, by_plenty: bool) -> Pattern:
    """Return the fullest pattern of these pieces and take them away."""
    kinds = sorted(counts)
    sizes, numbers = [problem.sizes[kind] for kind in kinds], [counts[kind] for kind in kinds]
    order = plenty_first(sizes, numbers) if by_plenty else None
    found = fullest_pattern(sizes, numbers, problem.stocks[stock].room, order=order)
    pattern = tuple((kinds[position], taken) for position, taken in found)
    for kind, taken in pattern:
        counts[kind] -= taken
    return pattern


def _left(problem: WholeProblem, roll: Roll) -> int:
    return problem.stocks[roll[0]].room - problem.filled(roll[1])


def _counted(rolls: Sequence[Roll]) -> list[Layout]:
    return [Layout(stock, pattern, times) for (stock, pattern), times in Counter(rolls).items()]
