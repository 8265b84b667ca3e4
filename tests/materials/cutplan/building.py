"""Small cut problems for the tests, and a brute force that shares nothing with the engine."""

from __future__ import annotations

import itertools
from fractions import Fraction

from hypothesis import strategies as st

from materials.cutplan.plan import CutPlan
from materials.cutplan.problem import CutProblem, Offcut, Piece, Roll
from materials.cutplan.solve import plan_cuts
from materials.cutplan.verify import verify


def stopped_clock() -> float:
    """A clock on which no time passes: the plan depends on the problem alone."""
    return 0.0


def planned(problem: CutProblem) -> CutPlan:
    """Plan with time to spare and insist that the plan holds."""
    plan = plan_cuts(problem, seconds=10, clock=stopped_clock)
    assert verify(problem, plan) == ()
    return plan


def rolls_of(length: int, *pieces: tuple[int, int], cost: int = 1) -> CutProblem:
    """One roll length, pieces as (length, count)."""
    return CutProblem(
        rolls=(Roll("roll", length, cost),),
        pieces=tuple(Piece(f"{size} long", size, count) for size, count in pieces),
    )


def least_cost(problem: CutProblem) -> tuple[Fraction, Fraction] | None:
    """Least (cost, usable leftover negative) over every way to put the pieces into stock; None: none fits."""
    pieces = [piece.length for piece in problem.pieces for _ in range(piece.count)]
    stock = [(offcut.length, 0) for offcut in problem.offcuts]
    for roll in problem.rolls:
        number = len(pieces) if roll.available is None else min(roll.available, len(pieces))
        stock += [(roll.length, roll.cost)] * number
    best = None
    for placing in itertools.product(range(len(stock)), repeat=len(pieces)):
        cost, usable = Fraction(0), Fraction(0)
        for place in set(placing):
            lengths = [piece for piece, where in zip(pieces, placing, strict=True) if where == place]
            if sum(lengths) + (len(lengths) - 1) * problem.kerf > stock[place][0]:
                break
            cost += stock[place][1]
            left = max(0, stock[place][0] - sum(lengths) - len(lengths) * problem.kerf)
            usable += left if left >= problem.usable_offcut else 0
        else:
            best = (cost, -usable) if best is None else min(best, (cost, -usable))
    return best


@st.composite
def tiny_problems(draw: st.DrawFn) -> CutProblem:
    """At most four pieces from at most two kinds of roll and one offcut: brute force stays quick."""
    lengths = draw(st.lists(st.integers(2, 12), min_size=1, max_size=2, unique=True))
    return CutProblem(
        rolls=tuple(
            Roll(f"r{n}", n, draw(st.integers(0, 9)), draw(st.sampled_from([None, 0, 1, 2]))) for n in lengths
        ),
        pieces=tuple(
            Piece(f"p{i}", Fraction(draw(st.integers(1, 20)), 2), 1) for i in range(draw(st.integers(0, 4)))
        ),
        offcuts=tuple(Offcut(f"o{n}", n) for n in draw(st.lists(st.integers(1, 8), max_size=1))),
        kerf=draw(st.sampled_from([0, Fraction(1, 8), 1])),
        usable_offcut=draw(st.sampled_from([0, 3])),
    )


@st.composite
def everyday_problems(draw: st.DrawFn) -> CutProblem:
    """Up to sixty strips from rolls of 50, 75 and 100 ft and a few offcuts."""
    kinds = draw(st.lists(st.integers(40, 240), min_size=1, max_size=8, unique=True))
    return CutProblem(
        rolls=(Roll("50 ft", 600, 28), Roll("75 ft", 900, 41), Roll("100 ft", 1200, 53)),
        pieces=tuple(Piece(f"{n}/2", Fraction(n, 2), draw(st.integers(1, 8))) for n in kinds),
        offcuts=tuple(
            Offcut(f"o-{i}", n) for i, n in enumerate(draw(st.lists(st.integers(30, 400), max_size=3)))
        ),
        usable_offcut=36,
    )
