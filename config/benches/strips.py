"""Orders of strips as large as wanted: what houses of windows need whose sizes lie on a grid."""

from __future__ import annotations

import random
from collections import Counter
from fractions import Fraction

from materials.cutplan.problem import CutProblem, Offcut, Piece, Roll

ROLLS = (Roll("50 ft", 600, 28), Roll("75 ft", 900, 41), Roll("100 ft", 1200, 53))
OFFCUTS = 4
PER_HOUSE = 25
NARROWEST, WIDEST = 18, 72
LOWEST, HIGHEST = 18, 84


def order(strips: int, *, grid: Fraction, seed: int) -> CutProblem:
    """Return the problem of cutting so many strips for whole houses, the last aside. The seed decides all.

    Strips of 9 in around an opening of W x H: sill W + 18, jambs H + 17, head W + 19, pan W + 12.
    Source: the strips of the takeoff, without wrap.
    """
    chance = random.Random(seed)  # noqa: S311  # nosec B311 - sizes, not secrets
    wanted: Counter[tuple[str, Fraction]] = Counter()
    house = 0
    while wanted.total() < strips:
        house += 1
        for _ in range(PER_HOUSE):
            width = _on_grid(chance, NARROWEST, WIDEST, grid)
            height = _on_grid(chance, LOWEST, HIGHEST, grid)
            for length, count in ((width + 18, 1), (height + 17, 2), (width + 19, 1), (width + 12, 1)):
                wanted[f"H{house}", length] += min(count, strips - wanted.total())
    return CutProblem(
        rolls=ROLLS,
        pieces=tuple(
            Piece(f"{house} {float(length)}", length, count, house)
            for (house, length), count in sorted(wanted.items())
        ),
        offcuts=tuple(Offcut(f"o-{n}", _on_grid(chance, 36, 400, grid)) for n in range(OFFCUTS)),
        usable_offcut=36,
    )


def _on_grid(chance: random.Random, least: int, most: int, grid: Fraction) -> Fraction:
    return grid * chance.randrange(int(least / grid), int(most / grid) + 1)
