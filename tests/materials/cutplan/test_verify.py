"""A cut plan that breaks any one rule is caught without the engine."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutplan.plan import Cut, CutPlan, Status
from materials.cutplan.problem import CutProblem, Offcut, Piece, Roll
from materials.cutplan.proof import is_proven
from materials.cutplan.verify import verify

from .building import least_cost, tiny_problems

PROBLEM = CutProblem(
    rolls=(Roll("roll", 100, 7, available=2),),
    pieces=(Piece("a", 30, 3), Piece("b", 40, 1)),
    offcuts=(Offcut("o-1", 40),),
    kerf=5,
)
# 3 x 30 + 2 x 5 = 100 fills the roll; the offcut of 40 makes the 40 with nothing left
GOOD = CutPlan(
    Status.OPTIMAL, 0.0, cost=7, bound=7, cuts=(Cut("roll", 1, {"a": 3}, 0), Cut("o-1", 1, {"b": 1}, 0))
)


def test_plan_that_keeps_every_rule_passes():
    assert verify(PROBLEM, GOOD) == ()


@pytest.mark.parametrize(
    ("cuts", "told"),
    [
        ((Cut("roll", 1, {"a": 3}, 0),), "'b' is cut 0 times instead of 1."),
        ((*GOOD.cuts, Cut("roll", 1, {"a": 1}, 65)), "'a' is cut 4 times instead of 3."),
        ((Cut("o-1", 2, {"b": 1}, 0), Cut("roll", 1, {"a": 3}, 0)), "'o-1' is used 2 times; there are 1."),
        ((Cut("roll", 3, {"a": 1}, 65), Cut("o-1", 1, {"b": 1}, 0)), "'roll' is used 3 times; there are 2."),
        ((Cut("o-1", 1, {"a": 3, "b": 1}, 0),), "'o-1' holds 40; 4 pieces of 130 do not fit."),
        (
            (Cut("roll", 1, {"a": 3}, 1), Cut("o-1", 1, {"b": 1}, 0)),
            "'roll' leaves 1 by the plan, which is not what remains.",
        ),
        ((*GOOD.cuts, Cut("roll", 1, {}, 100)), "A cut of 'roll' makes nothing."),
        ((Cut("reel", 1, {"a": 3}, 0),), "'reel' is neither a roll nor an offcut."),
    ],
)
def test_each_broken_rule_is_named(cuts, told):
    assert told in verify(PROBLEM, replace(GOOD, cuts=cuts))


@pytest.mark.parametrize(
    ("figures", "told"),
    [
        ({"cost": 6, "bound": 6}, "The cost is 7, not 6."),
        ({"bound": 8}, "The bound 8 is above the cost 7."),
        ({"bound": 6}, "optimal does not go with the cost 7 and the bound 6."),
        ({"status": Status.FEASIBLE}, "feasible does not go with the cost 7 and the bound 7."),
        ({"cost": None}, "A plan with cuts has no cost or no bound."),
        ({"status": Status.INFEASIBLE}, "A plan that is infeasible has figures."),
    ],
)
def test_figures_that_do_not_follow_are_named(figures, told):
    assert told in verify(PROBLEM, replace(GOOD, **figures))


# 3 x 30 and 40 in rolls of 100, kerf 5, beside an offcut of 40. The offcut holds one 30 or the 40
TWO_ROLLS = CutPlan(
    Status.OPTIMAL,
    0.0,
    cost=14,
    bound=14,
    cuts=(Cut("roll", 1, {"a": 3}, 0), Cut("roll", 1, {"b": 1}, 55)),
)


@pytest.mark.parametrize("weights", [{30: 30, 40: 40}, {30: 1, 40: 0}, {30: 10**20, 40: 1}, {}])
def test_bound_above_what_its_weights_prove_is_named(weights):
    told = "The bound 14 does not follow from the weights given for it."

    assert (told in verify(PROBLEM, replace(TWO_ROLLS, weights=weights))) == (10**20 not in weights.values())


def test_bound_that_its_weights_prove_passes():
    # without the offcut: a roll holds 100 + 5 in all, the pieces take 3 x 35 + 45 = 150
    problem = replace(PROBLEM, offcuts=())

    assert verify(problem, replace(TWO_ROLLS, weights={30: 35, 40: 45})) == ()
    # that each 30 counts a roll and the 40 nothing only proves one roll
    assert verify(problem, replace(TWO_ROLLS, weights={30: 1, 40: 0})) != ()


@settings(max_examples=100, deadline=None)
@given(tiny_problems(), st.dictionaries(st.integers(1, 20).map(lambda n: Fraction(n, 2)), st.integers(0, 9)))
def test_no_weights_prove_a_bound_above_the_best_plan(problem, weights):
    best = least_cost(problem)
    if best is not None and any(piece.count for piece in problem.pieces):
        assert not is_proven(problem, weights, best[0] + 1)
