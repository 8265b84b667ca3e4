"""Does a bound hold? Proven again from problem and weights alone, without the engine. Pure.

Give each piece a weight, whichever. No roll holds more weight than its heaviest filling, and all pieces have
to be held: where no cheaper choice of rolls holds that much, there is no cheaper plan.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from materials.cutplan.problem import CutProblem, Number

if TYPE_CHECKING:
    import numpy as np

    Table = np.ndarray[tuple[int], np.dtype[np.int64]]

LARGEST_TABLE = 1 << 21
MOST_WORK = 1 << 28
LARGEST_WEIGHT = 1 << 61


def is_proven(problem: CutProblem, weights: Mapping[Number, int], bound: Number) -> bool | None:
    """Return whether every plan costs at least `bound`; None where the tables would be too large to tell.

    `weights` are by the pieces' length, whole and at least 0.
    """
    fineness = math.lcm(*(Fraction(value).denominator for value in _lengths(problem)))
    step = math.gcd(
        *(int((piece.length + problem.kerf) * fineness) for piece in problem.pieces if piece.count)
    )
    rooms = [int((stock.length + problem.kerf) * fineness) // step for stock in problem.stock]
    pieces: Counter[tuple[int, int]] = Counter()
    for piece in problem.pieces:
        size = int((piece.length + problem.kerf) * fineness) // step
        pieces[size, weights.get(piece.length, 0)] += piece.count
    need = sum(weight * count for (_, weight), count in pieces.items())
    longest = max(rooms)
    if longest > LARGEST_TABLE or longest * len(pieces) > MOST_WORK or need > LARGEST_WEIGHT:
        return None
    table = _heaviest(pieces, longest)
    return _costs_at_least(problem, [int(table[room]) for room in rooms], need=need, bound=bound)


def _lengths(problem: CutProblem) -> list[Number]:
    lengths = [stock.length for stock in problem.stock] + [piece.length for piece in problem.pieces]
    return [*lengths, problem.kerf]


def _heaviest(pieces: Mapping[tuple[int, int], int], longest: int) -> Table:
    """Return the most weight by room; `pieces` are counts by (size, weight)."""
    import numpy as np

    table = np.zeros(longest + 1, dtype=np.int64)
    for (size, weight), count in pieces.items():
        for number in _parts(min(count, longest // size)):
            heavier = table[: -number * size] + number * weight
            np.maximum(table[number * size :], heavier, out=table[number * size :])
    return table


def _costs_at_least(problem: CutProblem, worths: Sequence[int], *, need: int, bound: Number) -> bool | None:
    """Return whether no rolls that cost less than `bound` hold `need`: the most that each cost can hold."""
    import numpy as np

    grain = _grain([roll.cost for roll in problem.rolls])
    cheaper = math.ceil(Fraction(bound) / grain) - 1
    if cheaper < 0:
        return True
    if cheaper > LARGEST_TABLE:
        return None
    held = np.zeros(cheaper + 1, dtype=np.int64)
    kinds = [(int(roll.cost / grain), roll.available) for roll in problem.rolls]
    kinds += [(0, 1) for _ in problem.offcuts]
    for (cost, available), worth in zip(kinds, worths, strict=True):
        if not worth:
            continue
        most = -(-need // worth) if available is None else min(available, -(-need // worth))
        for number in _parts(most if not cost else min(most, cheaper // cost)):
            spent = number * cost
            gained = held[: len(held) - spent] + min(need, number * worth)
            np.maximum(held[spent:], gained, out=held[spent:])
            np.minimum(held, need, out=held)
    return int(held[-1]) < need


def _grain(costs: Sequence[Number]) -> Fraction:
    """Return the largest amount of which every cost is a multiple; 1 where nothing costs anything."""
    common = math.lcm(*(Fraction(cost).denominator for cost in costs))
    return Fraction(math.gcd(*(int(cost * common) for cost in costs)), common) or Fraction(1)


def _parts(number: int) -> list[int]:
    """Return parts that make up every number up to `number`: 1, 2, 4 ... and a rest."""
    parts: list[int] = []
    while number > 0:
        parts.append(min(1 << len(parts), number))
        number -= parts[-1]
    return parts
