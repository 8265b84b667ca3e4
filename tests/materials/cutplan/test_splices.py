"""Pieces are cut in two only where that is allowed, and where it saves a roll or nothing else holds them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutplan.plan import Cut, CutPlan, Splice, Status
from materials.cutplan.problem import CutProblem, Piece, Roll
from materials.cutplan.verify import verify
from projects.errors import BadValue

from .building import planned


def strips(length, *, count, roll=900, kerf=0, may_splice=True):
    return CutProblem(
        rolls=(Roll("75 ft", roll, 41),),
        pieces=(Piece("jamb strip", length, count, may_splice=may_splice),),
        kerf=kerf,
        lap=4,
    )


def test_splice_saves_a_roll():
    # 11 x 77 = 847 to a roll of 900: 23 strips take three rolls. 23 x 77 = 1,771 and a lap of 4 fit two: 53
    # of the last strip's 77 lie at the end of the first roll, 77 + 4 - 53 = 28 in the second
    plan = planned(strips(77, count=23))

    assert (plan.status, plan.cost, plan.bound) == (Status.OPTIMAL, 82, 82)
    assert [(splice.piece, list(splice.parts.values())) for splice in plan.splices] == [
        ("jamb strip", [53, 28])
    ]


def test_nothing_is_spliced_where_it_is_not_allowed():
    plan = planned(strips(77, count=23, may_splice=False))

    assert (plan.cost, plan.splices) == (123, ())


def test_nothing_is_spliced_where_it_saves_no_roll():
    plan = planned(strips(77, count=22))

    assert (plan.status, plan.cost, plan.splices) == (Status.OPTIMAL, 82, ())


def test_lap_that_no_longer_fits_takes_the_roll_after_all():
    problem = CutProblem(
        rolls=(Roll("roll", 450, 10),), pieces=(Piece("head strip", 299, 3, may_splice=True),), lap=4
    )

    # 3 x 299 = 897 would fit two rolls of 450, and 901 do not
    assert (planned(problem).cost, planned(problem).splices) == (30, ())
    assert planned(replace(problem, lap=3)).cost == 20


def test_strip_longer_than_any_roll_is_a_whole_roll_and_the_rest():
    # 1,000 from rolls of 900: 900 and 1,000 + 4 - 900 = 104
    plan = planned(strips(1000, count=2))

    assert (plan.status, plan.cost) == (Status.OPTIMAL, 123)
    assert [dict(splice.parts) for splice in plan.splices] == [
        {"jamb strip, splice 1, part 1": 900, "jamb strip, splice 1, part 2": 104},
        {"jamb strip, splice 2, part 1": 900, "jamb strip, splice 2, part 2": 104},
    ]


def test_strip_longer_than_two_rolls_is_never_spliced_twice():
    # two rolls of 900 and a lap of 4 make 1,796
    assert planned(strips(1796, count=1)).cost == 82
    assert planned(strips(1797, count=1)).status is Status.INFEASIBLE


def test_kerf_is_lost_at_a_splice_too():
    # rolls of 100, pieces of 59, lap 4, kerf 1: 100 - 59 - 1 = 40 are left beside the first; the rest of the
    # second is 59 + 4 - 40 = 23, beside which the third takes 23 + 1 + 59 = 83
    problem = CutProblem(
        rolls=(Roll("roll", 100, 1),), pieces=(Piece("p", 59, 3, may_splice=True),), kerf=1, lap=4
    )

    plan = planned(problem)

    assert plan.cost == 2
    assert [list(splice.parts.values()) for splice in plan.splices] == [[40, 23]]


def test_lap_of_nothing_is_refused():
    with pytest.raises(BadValue) as refusal:
        CutProblem(rolls=(), pieces=(Piece("p", 59, 3, may_splice=True),))

    assert refusal.value.problem == "A piece may be spliced, and there is no lap."


PROBLEM = strips(77, count=23)
GOOD = Splice("jamb strip", {"a": 53, "b": 28})
PLAN = CutPlan(
    Status.OPTIMAL,
    0.0,
    cost=82,
    bound=82,
    cuts=(Cut("75 ft", 1, {"jamb strip": 11, "a": 1}, 0), Cut("75 ft", 1, {"jamb strip": 11, "b": 1}, 25)),
    splices=(GOOD,),
)


def test_spliced_plan_that_keeps_every_rule_passes():
    assert verify(PROBLEM, PLAN) == ()


@pytest.mark.parametrize(
    ("problem", "splices", "told"),
    [
        (strips(77, count=23, may_splice=False), (GOOD,), "'jamb strip' is spliced, which is not allowed."),
        (PROBLEM, (GOOD,) * 24, "'jamb strip' is spliced 24 times; there are 23."),
        (
            PROBLEM,
            (Splice("jamb strip", {"a": 53, "b": 27}),),
            "The parts of 'jamb strip' do not overlap by 4.",
        ),
        (
            PROBLEM,
            (Splice("jamb strip", {"a": 77, "b": 4}),),
            "'jamb strip' is not spliced from two parts longer than the lap.",
        ),
        (
            PROBLEM,
            (Splice("jamb strip", {"a": 30, "b": 28, "c": 27}),),
            "'jamb strip' is not spliced from two parts longer than the lap.",
        ),
        (PROBLEM, (), "'a' is cut 1 times instead of 0."),
    ],
)
def test_each_broken_rule_of_splices_is_named(problem, splices, told):
    assert told in verify(problem, replace(PLAN, splices=splices))


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.integers(5, 60), st.integers(1, 4), st.booleans()), min_size=1, max_size=4),
    st.sampled_from([0, 1, Fraction(1, 2)]),
    st.integers(40, 60),
)
def test_permission_to_splice_never_costs_anything(pieces, kerf, length):
    problem = CutProblem(
        rolls=(Roll("short", length, 10), Roll("long", 100, 19)),
        pieces=tuple(Piece(f"p{i}", n, k, may_splice=may) for i, (n, k, may) in enumerate(pieces)),
        kerf=kerf,
        lap=4,
    )
    forbidden = replace(problem, pieces=tuple(replace(piece, may_splice=False) for piece in problem.pieces))

    plan = planned(problem)

    assert plan.cost <= planned(forbidden).cost
    if plan.splices:
        assert plan.cost < planned(forbidden).cost
