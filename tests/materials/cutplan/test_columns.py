"""What the columns prove is exact, whatever the linear program's floats advise."""

from __future__ import annotations

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutplan.branch import Branching
from materials.cutplan.columns import Column, Rest, cost_of
from materials.cutplan.gap import Gap
from materials.cutplan.generate import least_cost, price_table, relax
from materials.cutplan.narrow import useful_columns
from materials.cutplan.pricing import PriceTable
from materials.cutplan.whole import in_whole_numbers

from .building import least_cost as brute_force
from .building import rolls_of, tiny_problems


def never_late():
    return False


def fits(problem):
    return any(p.count for p in problem.pieces) and all(p.length <= problem.longest for p in problem.pieces)


def best_cost(problem, whole):
    """The brute force's least cost in the whole problem's unit; None: nothing fits."""
    best = brute_force(problem)
    return None if best is None else best[0] * whole.cost_fineness


@settings(max_examples=150, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(1, 9), st.integers(0, 3), st.integers(0, 20)),
        max_size=4,
        unique_by=lambda piece: piece[0],
    ),
    st.integers(1, 30),
)
def test_price_table_holds_the_dearest_filling_of_every_room(pieces, room):
    pieces.sort(reverse=True)
    sizes, counts, weights = ([piece[at] for piece in pieces] for at in range(3))
    fillings = [
        (sum(map(int.__mul__, numbers, sizes)), sum(map(int.__mul__, numbers, weights)))
        for numbers in itertools.product(*(range(count + 1) for count in counts))
    ]

    table = PriceTable(sizes, counts, weights=weights, rooms=[room])

    for within in range(room + 1):
        assert table.worth(within) == max(weight for size, weight in fillings if size <= within)
    for _, pattern in table.best_patterns([0], most=99):
        assert all(taken <= counts[index] for index, taken in pattern)
        assert sum(sizes[index] * taken for index, taken in pattern) <= room


@settings(max_examples=60, deadline=None)
@given(tiny_problems().filter(fits), st.data())
def test_no_weights_whatever_prove_more_than_the_best_plan_costs(problem, data):
    whole = in_whole_numbers(problem)
    weights = data.draw(st.lists(st.integers(0, 9), min_size=len(whole.sizes), max_size=len(whole.sizes)))
    rest = Rest.of(whole)

    least = least_cost(whole, rest, weights, table=price_table(whole, rest, weights))

    best = best_cost(problem, whole)
    if best is not None:
        assert least is not None
        assert least <= best


@settings(max_examples=60, deadline=None)
@given(tiny_problems().filter(fits))
def test_columns_alone_close_the_gap_of_small_problems(problem):
    whole = in_whole_numbers(problem)
    best = best_cost(problem, whole)

    gap = Gap(whole, None, bound=0, is_late=never_late)
    gap.close()

    if best is None:
        assert gap.layouts is None
    else:
        assert (gap.cost, gap.bound) == (best, best)
        assert Rest.of(whole).after(gap.layouts).is_done()


@settings(max_examples=60, deadline=None)
@given(tiny_problems().filter(fits))
def test_every_column_of_a_plan_within_the_target_is_listed(problem):
    whole = in_whole_numbers(problem)
    rest = Rest.of(whole)
    gap = Gap(whole, None, bound=0, is_late=never_late)
    gap.close()
    if gap.layouts is None:
        return
    advice = relax(whole, rest, (), known=0, limit=10**9, is_late=never_late, full=True).advice
    table = price_table(whole, rest, advice.weights)

    listed = useful_columns(whole, rest, advice.weights, table=table, target=cost_of(whole, gap.layouts))

    if listed is not None:
        assert {Column(layout.stock, layout.pattern) for layout in gap.layouts} <= set(listed)


def test_search_proves_what_the_linear_program_cannot():
    # rolls of 132: 2 x 44, 3 x 33, 6 x 12. In shares 2/3 + 3/4 + 6/11 = 1.96 rolls would do. But both 44 in
    # one leave 138 or 135 for the other, and one 44 in each leaves 88 twice: 33 + 33 + 12 and 33 + 4 x 12
    whole = in_whole_numbers(rolls_of(132, (44, 2), (33, 3), (12, 6)))
    rest = Rest.of(whole)
    columns = [
        Column(0, tuple((index, taken) for index, taken in enumerate(numbers) if taken))
        for numbers in itertools.product(range(3), range(4), range(7))
        if 0 < 44 * numbers[0] + 33 * numbers[1] + 12 * numbers[2] <= 132
    ]

    two = Branching(whole, target=2, is_late=never_late)
    three = Branching(whole, target=3, is_late=never_late)

    assert two.run(rest, columns) is None
    assert two.is_complete
    found = three.run(rest, columns)
    assert cost_of(whole, found) == 3
    assert rest.after(found).is_done()


def test_search_cut_short_proves_nothing():
    whole = in_whole_numbers(rolls_of(132, (44, 2), (33, 3), (12, 6)))

    search = Branching(whole, target=2, is_late=lambda: True)

    assert search.run(Rest.of(whole), []) is None
    assert not search.is_complete
