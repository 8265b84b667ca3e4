"""The cut plan's promises, on cases worked by hand and against brute force."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings

from materials.cutplan.plan import CutPlan, Status
from materials.cutplan.problem import CutProblem, Offcut, Piece, Roll
from materials.cutplan.solve import plan_cuts
from materials.cutplan.starts import first_fits
from materials.cutplan.verify import verify
from materials.cutplan.whole import in_whole_numbers

from .building import everyday_problems, least_cost, planned, rolls_of, stopped_clock, tiny_problems


def made(plan: CutPlan) -> list[tuple[str, int, dict[str, int], object]]:
    return [(cut.roll, cut.times, dict(cut.pieces), cut.left) for cut in plan.cuts]


# 20 x 77 + 20 x 54 = 2,620. Rolls of 900: more than 2 by length, and 7 x 77 + 6 x 54 = 863 twice with
# 6 x 77 + 8 x 54 = 894 makes 3. Rolls of 600: more than 4, so 5. Rolls of 1,200: more than 2, so 3.
# Source: facts.md T26, T27
@pytest.mark.parametrize(("length", "rolls"), [(900, 3), (600, 5), (1200, 3)])
def test_textbook_strips_take_the_fewest_rolls(length, rolls):
    plan = planned(rolls_of(length, (77, 20), (54, 20)))

    assert (plan.status, plan.cost, plan.bound, plan.gap) == (Status.OPTIMAL, rolls, rolls, 0)


def test_textbook_reels_are_cut_from_seventy_three():
    # Source: a paper mill's well-known case, 219 pieces from reels of 5,600 mm. By length, 407,160 / 5,600 is
    # more than 72
    demand = {
        1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14,
        2140: 16, 2150: 18, 2200: 20,
    }  # fmt: skip

    plan = planned(rolls_of(5600, *demand.items()))

    assert (plan.status, plan.cost, plan.bound) == (Status.OPTIMAL, 73, 73)


def test_first_fit_decreasing_alone_buys_one_roll_too_many():
    # T26: 11 x 77 = 847; 9 x 77 + 3 x 54 = 855; 16 x 54 = 864; the last 54 needs a fourth roll
    whole = in_whole_numbers(rolls_of(900, (77, 20), (54, 20)))

    costs = [whole.score(layouts)[0] for layouts in first_fits(whole)]

    assert costs == [4]


def test_last_roll_is_downsized_to_the_cheapest_that_holds_it():
    # 13 x 100 = 1,300: one 100-ft roll (12 x 100 = 1,200) and 100 in more, for which the 50-ft roll is enough
    problem = CutProblem(
        rolls=(Roll("50 ft", 600, 28), Roll("75 ft", 900, 41), Roll("100 ft", 1200, 53)),
        pieces=(Piece("jamb strip", 100, 13),),
    )

    plan = planned(problem)

    # 13 strips: 53 + 28 = 81; 41 + 28 = 69 holds 9 + 6 = 15 strips and is cheaper; 28 + 28 = 56 holds only 12
    assert (plan.status, plan.cost) == (Status.OPTIMAL, 69)
    assert sorted(cut.roll for cut in plan.cuts for _ in range(cut.times)) == ["50 ft", "75 ft"]


def test_offcut_in_stock_is_cut_before_a_roll_is_bought():
    problem = CutProblem(
        rolls=(Roll("75 ft", 900, 41),), pieces=(Piece("sill strip", 54, 2),), offcuts=(Offcut("o-17", 212),)
    )

    plan = planned(problem)

    assert plan.cost == 0
    assert plan.gap == 0
    assert made(plan) == [("o-17", 1, {"sill strip": 2}, 104)]


def test_kerf_is_lost_between_cuts_and_not_after_a_full_roll():
    # 3 x 30 + 2 x 5 = 100 fits a roll of 100; nothing is left, though a third kerf would reach past its end
    problem = CutProblem(rolls=(Roll("stick", 100, 7),), pieces=(Piece("drip cap", 30, 3),), kerf=5)

    plan = planned(problem)

    assert made(plan) == [("stick", 1, {"drip cap": 3}, 0)]


def test_kerf_that_no_longer_fits_needs_another_roll():
    # 3 x 30 + 2 x 5 = 100 > 99
    problem = CutProblem(rolls=(Roll("stick", 99, 7),), pieces=(Piece("drip cap", 30, 3),), kerf=5)

    assert planned(problem).cost == 14


def test_left_over_counts_a_kerf_after_every_piece():
    # 100 - 2 x 30 - 2 x 5 = 30
    problem = CutProblem(rolls=(Roll("stick", 100, 7),), pieces=(Piece("drip cap", 30, 2),), kerf=5)

    assert planned(problem).cuts[0].left == 30


def test_decimals_are_exact():
    # 3 x 33.3 = 99.9 fits a roll of 99.9 exactly, which binary fractions would miss
    third = Fraction("33.3")
    problem = CutProblem(rolls=(Roll("roll", Fraction("99.9"), 1),), pieces=(Piece("p", third, 3),))

    plan = planned(problem)

    assert (plan.cost, plan.cuts[0].left) == (1, 0)


def test_lengths_of_the_finest_measure_are_planned_on_a_coarser_one():
    # in millionths: 298 pieces between 10 and 10.03 are between 2,980 and 2,989 long: two rolls of 1,500
    problem = CutProblem(
        rolls=(Roll("roll", 1500, 41),),
        pieces=tuple(
            Piece(f"{house} {n}", 10 + Fraction(n * n, 1_000_000), 1, house)
            for house in "AB"
            for n in range(149)
        ),
    )

    plan = planned(problem)

    assert (plan.status, plan.cost) == (Status.OPTIMAL, 82)


def test_usable_leftover_breaks_a_tie_of_cost():
    # Pieces 40, 30, 20, 10 fill one roll of 100. With 40, 30, 20 two rolls of 60 are needed:
    # 40 + 20 | 30 leaves 0 and 30; 40 | 30 + 20 leaves 20 and 10. Only the 30 is worth keeping.
    problem = CutProblem(
        rolls=(Roll("roll", 60, 5),),
        pieces=(Piece("a", 40, 1), Piece("b", 30, 1), Piece("c", 20, 1)),
        usable_offcut=25,
    )

    plan = planned(problem)

    assert plan.cost == 10
    assert sorted(cut.left for cut in plan.cuts) == [0, 30]


def test_longer_roll_at_the_same_price_is_preferred():
    problem = CutProblem(
        rolls=(Roll("75 ft", 900, 41), Roll("100 ft", 1200, 41)),
        pieces=(Piece("jamb strip", 77, 2),),
        usable_offcut=36,
    )

    assert made(planned(problem)) == [("100 ft", 1, {"jamb strip": 2}, 1046)]


def test_equal_cuts_are_told_once_with_their_number():
    assert made(planned(rolls_of(100, (50, 6)))) == [("roll", 3, {"50 long": 2}, 0)]


def test_pieces_of_equal_length_keep_their_own_names():
    problem = CutProblem(
        rolls=(Roll("roll", 108, 1),),
        pieces=(Piece("sill strip", 54, 1), Piece("head strip", 54, 1), Piece("pan", 54, 0)),
    )

    assert made(planned(problem)) == [("roll", 1, {"sill strip": 1, "head strip": 1}, 0)]


def test_piece_longer_than_every_roll_is_infeasible_and_named():
    plan = planned(rolls_of(900, (901, 1), (77, 2)))

    assert plan.status is Status.INFEASIBLE
    assert (plan.cost, plan.bound, plan.gap, plan.cuts) == (None, None, None, ())
    assert plan.problems[0].problem == "'901 long' is 901 long; the longest roll or offcut is 900."


def test_roll_with_none_available_does_not_count():
    problem = CutProblem(
        rolls=(Roll("short", 50, 1), Roll("long", 100, 1, available=0)), pieces=(Piece("p", 60, 1),)
    )

    assert planned(problem).status is Status.INFEASIBLE


def test_too_few_rolls_for_all_pieces_is_infeasible():
    # two rolls of 100 hold one piece of 60 each, not three
    problem = CutProblem(rolls=(Roll("roll", 100, 1, available=2),), pieces=(Piece("p", 60, 3),))

    plan = planned(problem)

    assert plan.status is Status.INFEASIBLE
    assert plan.problems[0].remedy == "Raise what is available, or cut fewer pieces."


def test_available_rolls_are_not_overdrawn():
    # the cheap roll is there once only: 1 + 2 x 9
    problem = CutProblem(
        rolls=(Roll("cheap", 100, 1, available=1), Roll("dear", 100, 9)), pieces=(Piece("p", 60, 3),)
    )

    assert planned(problem).cost == 19


def test_nothing_to_cut_costs_nothing():
    plan = planned(CutProblem(rolls=(), pieces=(Piece("p", 60, 0),)))

    assert (plan.status, plan.cost, plan.bound, plan.gap, plan.cuts) == (Status.OPTIMAL, 0, 0, 0, ())


def test_pieces_above_half_a_roll_count_a_roll_each_in_the_bound():
    # by length 200 x 60 + 200 x 25 = 17,000 would fit 170 rolls of 100, but no two of 60 share a roll: 200,
    # each with one of 25 beside it
    plan = planned(rolls_of(100, (60, 200), (25, 200)))

    assert (plan.status, plan.cost) == (Status.OPTIMAL, 200)


def test_a_plan_comes_however_short_the_time():
    # by length 4 x 60 + 2 x 20 = 280 would fit three rolls of 100 (60 + 20 + 20 is full), but no two of 60
    # share one: four
    ticks = iter(range(1000))
    problem = rolls_of(100, (60, 4), (20, 2))

    plan = plan_cuts(problem, seconds=0.001, clock=lambda: float(next(ticks)))

    assert (plan.status, plan.cost, plan.bound, plan.gap) == (Status.FEASIBLE, 4, 3, Fraction(1, 4))
    assert (planned(problem).status, planned(problem).cost) == (Status.OPTIMAL, 4)


def test_limited_rolls_that_no_quick_method_fits_are_out_of_time():
    # 53 in all fit three rolls of 18 as 10 + 7, 9 + 6 + 3 and 7 + 6 + 5; the quick methods begin with other
    # whole rolls
    ticks = iter(range(1000))
    counts = {10: 1, 9: 1, 7: 2, 6: 2, 5: 1, 3: 1}
    problem = CutProblem(
        rolls=(Roll("roll", 18, 1, available=3),),
        pieces=tuple(Piece(f"{size} long", size, count) for size, count in counts.items()),
    )

    plan = plan_cuts(problem, seconds=0.5, clock=lambda: float(next(ticks)))

    assert plan.status is Status.OUT_OF_TIME
    assert (plan.cost, plan.bound, plan.cuts) == (None, None, ())
    assert planned(problem).cost == 3


@settings(max_examples=150, deadline=None)
@given(tiny_problems())
def test_small_plans_equal_brute_force(problem):
    plan = planned(problem)

    best = least_cost(problem)

    if best is None:
        assert plan.status is Status.INFEASIBLE
    else:
        usable = sum(cut.left * cut.times for cut in plan.cuts if cut.left >= problem.usable_offcut)
        assert (plan.status, plan.cost, -usable) == (Status.OPTIMAL, *best)


@settings(max_examples=60, deadline=None)
@given(everyday_problems())
def test_everyday_plans_hold_and_never_lose_to_first_fit(problem):
    plan = planned(problem)

    whole = in_whole_numbers(problem)
    assert plan.cost <= min(whole.score(layouts)[0] for layouts in first_fits(whole))


@settings(max_examples=40, deadline=None)
@given(everyday_problems())
def test_equal_problems_get_equal_plans(problem):
    first = plan_cuts(problem, seconds=10, clock=stopped_clock)

    assert plan_cuts(problem, seconds=10, clock=stopped_clock) == first
    assert verify(problem, first) == ()
