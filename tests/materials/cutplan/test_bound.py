"""The proven least cost: equal to brute force where it is exact, never above it where it is not."""

from __future__ import annotations

import itertools
import random

from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutplan.bound import Kind, cheapest_cover
from materials.cutplan.fullest import anchored_pattern, fullest_pattern, longest_first_pattern
from materials.cutplan.plan import Status
from materials.cutplan.problem import CutProblem, Piece, Roll

from .building import planned, rolls_of

KINDS = st.lists(
    st.builds(Kind, st.integers(0, 9), st.integers(0, 9), st.one_of(st.none(), st.integers(0, 3))), max_size=3
)


@settings(max_examples=200, deadline=None)
@given(st.integers(0, 25), KINDS)
def test_cover_costs_what_brute_force_finds(need, kinds):
    # no kind is ever needed more often than `need` times: each worth is at least 1
    choices = itertools.product(
        *(range(need + 1 if k.available is None else min(need, k.available) + 1) for k in kinds)
    )
    costs = [
        sum(n * kind.cost for n, kind in zip(numbers, kinds, strict=True))
        for numbers in choices
        if sum(n * kind.worth for n, kind in zip(numbers, kinds, strict=True)) >= need
    ]

    cover = cheapest_cover(need, kinds)

    assert (None if cover is None else cover.cost) == (min(costs) if costs else None)


def test_cover_too_wide_to_search_still_gives_a_proven_cost():
    chance = random.Random(7)
    kinds = [Kind(worth, worth * 40 + chance.randrange(9)) for worth in chance.sample(range(900, 1200), 40)]

    cover = cheapest_cover(1_000_003, kinds)

    bought = sum(n * kind.cost for n, kind in zip(cover.numbers, kinds, strict=True))
    # every worth costs at least 40 a unit
    assert 40 * 1_000_003 <= cover.cost <= bought
    assert sum(n * kind.worth for n, kind in zip(cover.numbers, kinds, strict=True)) >= 1_000_003


def test_pieces_that_cannot_share_a_roll_prove_that_there_are_too_few():
    # by length 30 x 7 + 10 x (4 + 3 + 2) = 300 would fill 30 rolls of 10, but 7 + 4 > 10: each 7 takes a roll
    sizes = [(7, 30), (4, 10), (3, 10), (2, 10)]
    many = CutProblem((Roll("roll", 10, 1, available=30),), tuple(Piece(f"{n}", n, k) for n, k in sizes))
    few = CutProblem(
        (Roll("roll", 10, 1, available=3),),
        tuple(Piece(f"{n}", n, k) for n, k in [(7, 3), (4, 1), (3, 1), (2, 1)]),
    )

    assert planned(many).status is Status.INFEASIBLE
    assert planned(few).status is Status.INFEASIBLE


def test_rolls_measured_very_finely_are_planned_without_a_table():
    # 5,000,001 steps are too many for a table. 2,000,003 fits twice, with no 1,000,001
    # beside it: two rolls of two, and the fifth with both short ones
    plan = planned(rolls_of(5_000_001, (2_000_003, 5), (1_000_001, 2)))

    assert plan.cost == 3


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 12), st.integers(0, 3)), max_size=5, unique_by=lambda item: item[0]),
    st.integers(0, 40),
)
def test_fullest_pattern_is_the_fullest_there_is(pieces, room):
    pieces.sort(reverse=True)
    sizes, counts = [size for size, _ in pieces], [count for _, count in pieces]
    sums = [
        sum(n * size for n, size in zip(numbers, sizes, strict=True))
        for numbers in itertools.product(*(range(count + 1) for count in counts))
    ]

    found = {
        fill: sum(sizes[index] * count for index, count in fill(sizes, counts, room))
        for fill in (fullest_pattern, anchored_pattern, longest_first_pattern)
    }

    assert found[fullest_pattern] == max(total for total in sums if total <= room)
    assert found[anchored_pattern] <= found[fullest_pattern]
    assert found[longest_first_pattern] <= found[fullest_pattern]
