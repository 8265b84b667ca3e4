"""A cut problem that cannot be is refused where it is built."""

from __future__ import annotations

from fractions import Fraction

import pytest

from materials.cutplan.problem import CutProblem, Offcut, Piece, Roll
from projects.errors import BadValue


@pytest.mark.parametrize(
    ("build", "problem"),
    [
        (lambda: Roll("75 ft", 0, 41), "Roll '75 ft' has the length 0."),
        (lambda: Roll("75 ft", 900, -1), "Roll '75 ft' has the cost -1."),
        (lambda: Roll("75 ft", 900, 41, available=-1), "Roll '75 ft' has -1 available."),
        (lambda: Offcut("o-1", Fraction(-1, 2)), "Offcut 'o-1' has the length -0.5."),
        (lambda: Piece("p", 10**13, 1), "Piece 'p' has the length 10000000000000."),
        (lambda: Piece("p", 54, -2), "Piece 'p' has the count -2."),
        (lambda: CutProblem((), (), kerf=-1), "kerf is -1."),
        (lambda: CutProblem((), (), usable_offcut=-1), "usable_offcut is -1."),
        (lambda: CutProblem((Roll(" ", 9, 1),), ()), "A roll or offcut has no name."),
        (
            lambda: CutProblem((Roll("x", 9, 1),), (), offcuts=(Offcut("x", 5),)),
            "Two entries for a roll or offcut are named 'x'.",
        ),
        (
            lambda: CutProblem((), (Piece("p", 5, 1), Piece("p", 6, 1))),
            "Two entries for a piece are named 'p'.",
        ),
        (
            lambda: CutProblem((), (Piece("p", 5, 90_000), Piece("q", 6, 90_000))),
            "180,000 pieces are too many for one plan.",
        ),
        (
            lambda: CutProblem(tuple(Roll(f"r{n}", 9, 1) for n in range(101)), ()),
            "101 kinds of roll are too many for one plan.",
        ),
    ],
)
def test_value_that_cannot_be_is_refused_in_words(build, problem):
    with pytest.raises(BadValue) as refusal:
        build()

    assert refusal.value.problem == problem
    assert refusal.value.remedy
