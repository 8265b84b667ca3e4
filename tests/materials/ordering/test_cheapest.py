"""No plan is cheaper: against trying all numbers of packs, against line by line, and where rows are many."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from config.benches.minimums import week
from materials.ordering.plan import Status
from materials.ordering.problem import Demand, Pack, PurchaseProblem, Supplier
from materials.ordering.solve import plan_purchases
from materials.ordering.verify import verify
from projects.quantities.money import Money

from .building import THURSDAY, WEDNESDAY, a_break, days, planned, problems
from .trying import alone, least_by_assigning, least_by_trying


def test_orders_of_many_materials_reach_their_minimums_together():
    # Ten materials, one pack of each. At a each costs 10.00, at b 9.00; freight 1.00 at both, minimums 60.00.
    # All at b: 90.00 + 1.00. Six at a, four at b: b would lack 24.00
    suppliers = [Supplier(key, 0, minimum=Money.of("60.00"), freight=Money.of("1.00")) for key in "ab"]
    names = [f"m{number}" for number in range(10)]
    packs = [Pack(name, "a", "box", 10, Money.of("10.00")) for name in names]
    packs += [Pack(name, "b", "box", 10, Money.of("9.00")) for name in names]
    problem = PurchaseProblem(
        WEDNESDAY,
        tuple(Demand(name, 8, THURSDAY) for name in names),
        packs=tuple(packs),
        suppliers=tuple(suppliers),
    )

    assert planned(problem).cost == Money.of("91.00")
    # c alone sells m10, 5.00, from 20.00 on; it has m0 and m1 for 9.50 each: 24.00 in all and 8 x 9.00 + 1.00
    more = replace(
        problem,
        demands=(*problem.demands, Demand("m10", 8, THURSDAY)),
        packs=(
            *packs,
            Pack("m10", "c", "box", 10, Money.of("5.00")),
            Pack("m0", "c", "box", 10, Money.of("9.50")),
            Pack("m1", "c", "box", 10, Money.of("9.50")),
        ),
        suppliers=(*suppliers, Supplier("c", 0, minimum=Money.of("20.00"))),
    )
    plan = planned(more)
    assert plan.cost == Money.of("97.00")
    assert plan.status is Status.OPTIMAL
    assert [(charge.supplier, charge.goods.as_text) for charge in plan.charges] == [
        ("b", "72.00"),
        ("c", "24.00"),
    ]


@pytest.mark.parametrize("steps", [0, 1_000, 10_000])
def test_search_that_is_cut_short_keeps_all_rules_and_a_true_bound(steps):
    problem = twelve_materials()

    short, whole = plan_purchases(problem, steps=steps), planned(problem)

    assert verify(problem, short) == ()
    assert short.bound <= whole.cost <= short.cost


def twelve_materials() -> PurchaseProblem:
    """Three suppliers with a minimum and odd prices: the cheapest prices at each for other materials."""
    packs = []
    for number in range(12):
        for place, key in enumerate("abc"):
            for size in (1, 7, 12):
                cents = size * (90 - size) + 7 * ((number + place * 5) % 11) + place
                packs.append(
                    Pack(f"m{number}", key, f"of {size}", size, Money(cents), a_break(cents, 4 + place))
                )
    return PurchaseProblem(
        WEDNESDAY,
        tuple(Demand(f"m{number}", 20 + 3 * number, THURSDAY) for number in range(12)),
        packs=tuple(packs),
        suppliers=tuple(
            Supplier(key, 1, minimum=Money.of(minimum), freight=Money.of("3.00"))
            for key, minimum in (("a", "120.00"), ("b", "80.00"), ("c", "100.00"))
        ),
    )


@st.composite
def small_problems(draw: st.DrawFn) -> PurchaseProblem:
    """One or two materials, few packs and suppliers, so that all numbers of packs can be tried."""
    keys = draw(st.sampled_from([("a",), ("a", "b"), ("a", "b", "c")]))
    cents = st.sampled_from([0, 0, 30, 60, 110])
    suppliers = tuple(
        Supplier(key, draw(st.integers(0, 4)), minimum=Money(draw(cents)), freight=Money(draw(cents)))
        for key in keys
    )
    kinds = st.tuples(st.sampled_from("xxy"), st.sampled_from(keys), st.sampled_from([1, 2, 3, 5]))
    packs = tuple(
        Pack(
            material,
            supplier,
            f"of {size}",
            size,
            Money(price := draw(st.integers(5, 40))),
            a_break(price, draw(st.sampled_from([0, 2, 4]))),
            minimum=draw(st.sampled_from([1, 1, 2])),
        )
        for material, supplier, size in draw(st.lists(kinds, min_size=1, max_size=3, unique=True))
    )
    demand = st.builds(Demand, st.sampled_from("xy"), st.integers(0, 9), days(0, 8))
    return PurchaseProblem(
        WEDNESDAY,
        tuple(draw(st.lists(demand, min_size=1, max_size=3))),
        packs=packs,
        suppliers=suppliers,
        undivided=draw(st.booleans()),
    )


@settings(max_examples=150, deadline=None)
@given(small_problems())
def test_no_other_numbers_of_packs_would_be_cheaper(problem):
    plan = planned(problem)

    assert plan.cost.cents == plan.bound.cents == least_by_trying(problem)


@st.composite
def small_weeks(draw: st.DrawFn) -> PurchaseProblem:
    """Three or four materials, two or three suppliers whose minimums are a good part of all goods."""
    keys = draw(st.sampled_from([("a", "b"), ("a", "b", "c")]))
    names = [f"m{number}" for number in range(draw(st.integers(3, 4)))]
    packs = []
    for name in names:
        for key in draw(st.lists(st.sampled_from(keys), min_size=1, max_size=3, unique=True)):
            for size in draw(st.lists(st.sampled_from([1, 3, 5]), min_size=1, max_size=2, unique=True)):
                price = size * draw(st.integers(20, 40))
                steps = a_break(price, draw(st.sampled_from([0, 0, 3])))
                packs.append(Pack(name, key, f"of {size}", size, Money(price), steps))
    minimum, freight = st.sampled_from([0, 150, 280, 450]), st.sampled_from([0, 30, 90])
    return PurchaseProblem(
        WEDNESDAY,
        tuple(Demand(name, draw(st.integers(1, 7)), THURSDAY) for name in names),
        packs=tuple(packs),
        suppliers=tuple(
            Supplier(key, 0, minimum=Money(draw(minimum)), freight=Money(draw(freight))) for key in keys
        ),
        undivided=True,
    )


@settings(max_examples=150, deadline=None)
@given(small_weeks())
def test_no_choice_of_sellers_would_be_cheaper_where_minimums_bind(problem):
    plan = planned(problem)

    assert plan.cost.cents == plan.bound.cents == least_by_assigning(problem)


@pytest.mark.parametrize("seed", range(12))
def test_week_of_twelve_materials_whose_minimums_bind_is_proven(seed):
    # suppliers, freight and minimums of every kind; the bench tells how long each takes
    plan = planned(week(12, 2 + seed % 5, seed=seed))

    assert plan.status is Status.OPTIMAL


@settings(max_examples=100, deadline=None)
@given(problems())
def test_never_dearer_than_each_line_alone_at_its_cheapest_pack(problem):
    # lines bought apart may stand below a minimum, so none here
    problem = replace(
        problem, suppliers=tuple(replace(supplier, minimum=Money(0)) for supplier in problem.suppliers)
    )
    line_by_line = alone(problem)
    assume(line_by_line)

    assert planned(problem).cost.cents <= line_by_line
