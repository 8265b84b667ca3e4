"""The cheapest mix of packs and suppliers, worked by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from materials.ordering.plan import Status
from materials.ordering.problem import Demand, Pack, PriceBreak, PurchaseProblem, Supplier
from materials.ordering.solve import plan_purchases
from materials.ordering.verify import verify
from projects.quantities.money import Money

from .building import (
    CASE,
    FRIDAY,
    HARBOR,
    MONDAY,
    SINGLE,
    THURSDAY,
    TUESDAY,
    a_problem,
    planned,
)

CORNER = Supplier("corner", lead_days=1)
AT_CORNER = Pack("sealant", "corner", "tube", 1, Money.of("10.00"))
SCREWS = Pack("screws", "harbor", "box of 500", 500, Money.of("42.00"))


def taken(plan):
    """Return what is bought: packs, kind, supplier and money, line by line."""
    return [(line.packs, line.pack.name, line.pack.supplier, line.total.as_text) for line in plan.lines]


def test_cases_are_mixed_with_single_tubes_where_that_is_cheaper():
    # 221 = 18 x 12 + 5: 18 x 102.00 + 5 x 9.00 = 1,881.00; 19 cases would be 1,938.00, 221 tubes 1,989.00
    plan = planned(a_problem(Demand("sealant", 221, THURSDAY), packs=(CASE, SINGLE)))

    assert taken(plan) == [(18, "case of 12", "harbor", "1836.00"), (5, "tube", "harbor", "45.00")]
    assert [line.quantity for line in plan.lines] == [216, 5]
    assert (plan.status, plan.cost, plan.bound) == (Status.OPTIMAL, Money.of("1881.00"), Money.of("1881.00"))
    assert plan.gap == 0


def test_case_replaces_tubes_as_soon_as_it_is_cheaper():
    # 11 tubes: 99.00, a case 102.00; 12 tubes: 108.00
    eleven = planned(a_problem(Demand("sealant", 11, THURSDAY), packs=(CASE, SINGLE)))
    twelve = planned(a_problem(Demand("sealant", 12, THURSDAY), packs=(CASE, SINGLE)))

    assert taken(eleven) == [(11, "tube", "harbor", "99.00")]
    assert taken(twelve) == [(1, "case of 12", "harbor", "102.00")]


def test_packs_of_one_day_are_chosen_with_the_later_days_in_mind():
    # 10 + 15 = 25: two cases and a tube, 213.00; alone 10 tubes 90.00, a case and 3 tubes 129.00: 219.00
    # Monday: a case, 2 are left; Thursday: 13 more, a case and a tube
    plan = planned(
        a_problem(Demand("sealant", 10, MONDAY), Demand("sealant", 15, THURSDAY), packs=(CASE, SINGLE))
    )

    assert [(line.needed, line.packs, line.pack.name, line.quantity) for line in plan.lines] == [
        (MONDAY, 1, "case of 12", 10),
        (THURSDAY, 1, "case of 12", 12),
        (THURSDAY, 1, "tube", 1),
    ]
    assert plan.cost == Money.of("213.00")


def test_more_is_bought_where_a_break_makes_it_cheaper():
    # 9 x 9.00 = 81.00; from 10 on 8.00: 80.00
    tube = replace(SINGLE, breaks=(PriceBreak(10, Money.of("8.00")),))

    plan = planned(a_problem(Demand("sealant", 9, THURSDAY), packs=(tube,)))

    assert taken(plan) == [(10, "tube", "harbor", "80.00")]
    assert [line.quantity for line in plan.lines] == [9]


def test_break_counts_the_packs_of_all_days_of_the_order():
    # 6 + 6 = 12 tubes in one order, from 12 on 7.00: 42.00 a day
    tube = replace(SINGLE, breaks=(PriceBreak(12, Money.of("7.00")),))

    plan = planned(a_problem(Demand("sealant", 6, MONDAY), Demand("sealant", 6, THURSDAY), packs=(tube,)))

    assert taken(plan) == [(6, "tube", "harbor", "42.00"), (6, "tube", "harbor", "42.00")]


def test_freight_makes_one_supplier_cheaper_than_two():
    # apart: 102.00 + 38.00 + 2 x 12.00 = 164.00; harbor alone: 102.00 + 42.00 + 12.00 = 156.00
    # without freight: 140.00 and 144.00
    cheaper = Pack("screws", "corner", "box of 500", 500, Money.of("38.00"))
    problem = a_problem(
        Demand("sealant", 12, THURSDAY),
        Demand("screws", 300, THURSDAY),
        packs=(CASE, SCREWS, cheaper),
        suppliers=(
            replace(HARBOR, freight=Money.of("12.00")),
            replace(CORNER, freight=Money.of("12.00")),
        ),
    )

    plan = planned(problem)

    assert {line.pack.supplier for line in plan.lines} == {"harbor"}
    assert [(c.supplier, c.goods.as_text, c.freight.as_text) for c in plan.charges] == [
        ("harbor", "144.00", "12.00")
    ]
    assert plan.cost == Money.of("156.00")
    assert planned(replace(problem, suppliers=(HARBOR, CORNER))).cost == Money.of("140.00")


def test_order_below_the_minimum_goes_to_another_supplier():
    # 8 tubes: 72.00 at harbor, who takes orders from 100.00 on (12 tubes, 108.00); 80.00 at the corner
    plan = planned(with_a_minimum(8))

    assert taken(plan) == [(8, "tube", "corner", "80.00")]
    assert [(charge.supplier, charge.missing.cents) for charge in plan.charges] == [("corner", 0)]


def test_order_is_topped_up_to_the_minimum_where_that_is_cheaper():
    # 11 tubes: 99.00 at harbor is below 100.00; a twelfth makes 108.00, the corner would be 110.00
    plan = planned(with_a_minimum(11))

    assert taken(plan) == [(12, "tube", "harbor", "108.00")]
    assert plan.cost == Money.of("108.00")


def with_a_minimum(tubes: int) -> PurchaseProblem:
    harbor = replace(HARBOR, minimum=Money.of("100.00"))
    return a_problem(
        Demand("sealant", tubes, THURSDAY), packs=(SINGLE, AT_CORNER), suppliers=(harbor, CORNER)
    )


def test_only_supplier_gets_an_order_below_his_minimum_and_it_is_said():
    # 42.00 of 50.00: 8.00 are missing and count as paid
    yard = replace(HARBOR, minimum=Money.of("50.00"))

    plan = planned(a_problem(Demand("screws", 384, THURSDAY), packs=(SCREWS,), suppliers=(yard,)))

    (charge,) = plan.charges
    assert (charge.goods, charge.missing) == (Money.of("42.00"), Money.of("8.00"))
    assert charge.told == (
        "The order to harbor lacks 8.00 to its minimum of 50.00: add what is needed soon, or ask."
    )
    assert (plan.cost, plan.status) == (Money.of("50.00"), Status.OPTIMAL)


def test_what_two_sell_fills_the_order_that_must_be():
    # only harbor has screws, 42.00 of 50.00. A tube is 9.50 there: 51.50 in all.
    # With the tube from the corner at 9.00 it would be 50.00 + 9.00 = 59.00
    harbor = replace(HARBOR, minimum=Money.of("50.00"))
    packs = (
        SCREWS,
        replace(SINGLE, price=Money.of("9.50")),
        replace(AT_CORNER, price=Money.of("9.00")),
    )

    plan = planned(
        a_problem(
            Demand("screws", 384, THURSDAY),
            Demand("sealant", 1, THURSDAY),
            packs=packs,
            suppliers=(harbor, CORNER),
        )
    )

    assert [charge.supplier for charge in plan.charges] == ["harbor"]
    assert plan.cost == Money.of("51.50")


def test_no_pack_is_bought_for_a_break_where_the_minimum_is_paid_anyway():
    # 7 tubes, only from harbor, at least 30.00. Cases of 3: three for 18.00 lack 12.00; from four on 4.00
    # each, 16.00, lack 14.00. Both come to 30.00, so three
    harbor = replace(HARBOR, minimum=Money.of("30.00"))
    case = Pack("sealant", "harbor", "of 3", 3, Money.of("6.00"), (PriceBreak(4, Money.of("4.00")),))

    plan = planned(
        a_problem(Demand("sealant", 7, THURSDAY), packs=(case,), suppliers=(harbor,), undivided=True)
    )

    assert taken(plan) == [(3, "of 3", "harbor", "18.00")]
    assert plan.cost == plan.bound == Money.of("30.00")


def test_undivided_material_comes_from_one_supplier():
    cheap = replace(AT_CORNER, price=Money.of("8.60"))
    problem = a_problem(
        Demand("sealant", 13, THURSDAY), packs=(CASE, SINGLE, cheap), suppliers=(HARBOR, CORNER)
    )

    # mixed: 102.00 + 8.60; undivided: 102.00 + 9.00 = 111.00 at harbor, 13 x 8.60 = 111.80 at the corner
    assert planned(problem).cost == Money.of("110.60")
    assert taken(planned(replace(problem, undivided=True))) == [
        (1, "case of 12", "harbor", "102.00"),
        (1, "tube", "harbor", "9.00"),
    ]


def test_of_equal_prices_the_larger_pack_wins_then_the_first_supplier_by_name():
    # 12 x 8.50 = 102.00 as well
    even = replace(SINGLE, price=Money.of("8.50"))
    same = Pack("sealant", "corner", "case of 12", 12, Money.of("102.00"))

    larger = planned(a_problem(Demand("sealant", 12, THURSDAY), packs=(even, CASE)))
    first = planned(
        a_problem(Demand("sealant", 24, THURSDAY), packs=(CASE, same), suppliers=(HARBOR, CORNER))
    )

    assert taken(larger) == [(1, "case of 12", "harbor", "102.00")]
    assert taken(first) == [(2, "case of 12", "corner", "204.00")]


def test_packs_in_time_are_mixed_with_cheaper_ones_that_are_in_time_only_later():
    # in by Thursday 4: only the corner can, 2 x 10.00. By Wednesday 10: harbor's tubes at 9.00
    plan = planned(
        a_problem(
            Demand("sealant", 2, date(2026, 6, 5)),
            Demand("sealant", 3, THURSDAY),
            packs=(SINGLE, AT_CORNER),
            suppliers=(HARBOR, CORNER),
        )
    )

    assert taken(plan) == [(2, "tube", "corner", "20.00"), (3, "tube", "harbor", "27.00")]
    assert plan.shortages == ()


def test_two_mornings_that_one_late_pack_serves_are_both_named():
    # today Wednesday 3; harbor comes on Friday 5, after the mornings of Thursday 4 and Friday 5
    thursday = date(2026, 6, 4)

    plan = planned(a_problem(Demand("sealant", 5, thursday), Demand("sealant", 4, FRIDAY)))

    assert [(short.needed, short.quantity, short.comes) for short in plan.shortages] == [
        (thursday, 5, FRIDAY),
        (FRIDAY, 4, FRIDAY),
    ]
    assert [short.cost for short in plan.shortages] == [Money.of("102.00"), None]


def test_holidays_count_in_the_lead_time_of_each_supplier():
    # Tuesday 9: in by Monday 8. Harbor, two working days, off on Friday 5: Thursday 4 and Wednesday 3
    off = replace(HARBOR, holidays=frozenset({FRIDAY}))

    plan = planned(a_problem(Demand("sealant", 1, TUESDAY), suppliers=(off,)))

    assert [(line.order_by, line.arrives) for line in plan.lines] == [(date(2026, 6, 3), MONDAY)]


def test_search_that_is_cut_short_has_a_plan_with_its_bound():
    problem = a_problem(Demand("sealant", 221, THURSDAY), Demand("sealant", 7, MONDAY), packs=(CASE, SINGLE))

    plan = plan_purchases(problem, steps=0)

    assert verify(problem, plan) == ()
    assert plan.bound <= planned(problem).cost <= plan.cost
