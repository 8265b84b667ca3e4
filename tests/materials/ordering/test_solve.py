"""Netting and buying, on cases worked by hand and over what may happen."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from materials.ordering.plan import Draw, Loss, Status
from materials.ordering.problem import (
    Delivery,
    Demand,
    Lot,
    Pack,
    PriceBreak,
    PurchaseProblem,
    Reserve,
    Supplier,
)
from materials.ordering.solve import plan_purchases
from projects.quantities.money import Money

from .building import (
    CASE,
    FRIDAY,
    HARBOR,
    MONDAY,
    NEXT_WEDNESDAY,
    SINGLE,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    a_problem,
    after_ordering,
    planned,
    problems,
)

# The worked case: today Wednesday 3 June 2026, 8 tubes for Monday 8 and 53 for Thursday 11, reserve 6.
# Monday: lot A expires first and gives 8 of its 12; 4 + 10 stay, above the reserve.
# Tuesday 9 is A's last good day: its 4 are lost. Thursday: B's 10 and the 24 due on Wednesday evening are
# there; 53 + 6 - 34 = 25, so 3 cases of 12. In by Wednesday 10, two working days back: order by Monday 8.
WORKED = PurchaseProblem(
    today=WEDNESDAY,
    demands=(Demand("sealant", 8, MONDAY, "2N-01"), Demand("sealant", 53, THURSDAY, "2N-02")),
    lots=(Lot("sealant", "A", 12, TUESDAY), Lot("sealant", "B", 10, date(2026, 9, 30))),
    deliveries=(Delivery("sealant", "2026-011", 24, NEXT_WEDNESDAY),),
    reserves=(Reserve("sealant", 6),),
    packs=(CASE,),
    suppliers=(HARBOR,),
)


def test_worked_case_nets_in_date_order():
    plan = planned(WORKED)

    monday, thursday = plan.nets
    assert (monday.need, monday.usable, monday.net) == (8, 22, 0)
    assert monday.draws == (Draw("A", 8),)
    assert (thursday.need, thursday.reserve, thursday.usable, thursday.net) == (53, 6, 34, 25)
    assert thursday.draws == (Draw("B", 10), Draw("2026-011", 24, NEXT_WEDNESDAY))
    assert [demand.reference for demand in thursday.demands] == ["2N-02"]


def test_worked_case_shows_what_expires_as_loss():
    assert planned(WORKED).losses == (Loss("sealant", "A", 4, TUESDAY),)


def test_worked_case_buys_three_cases_by_monday():
    plan = planned(WORKED)

    (line,) = plan.lines
    assert (line.quantity, line.packs, line.bought) == (25, 3, 36)
    assert (line.unit_price, line.total) == (Money.of("102.00"), Money.of("306.00"))
    assert (line.order_by, line.arrives) == (MONDAY, NEXT_WEDNESDAY)
    assert (plan.status, plan.cost, plan.bound) == (Status.OPTIMAL, Money.of("306.00"), Money.of("306.00"))
    assert plan.shortages == ()


def test_worked_case_repeated_after_ordering_buys_nothing():
    again = planned(after_ordering(WORKED, planned(WORKED)))

    assert again.lines == ()
    assert again.cost == Money(0)


def test_lot_counts_on_its_last_good_day_and_not_after():
    lot = Lot("sealant", "A", 12, MONDAY)

    on_the_day = planned(a_problem(Demand("sealant", 12, MONDAY), lots=(lot,)))
    day_after = planned(a_problem(Demand("sealant", 12, TUESDAY), lots=(lot,)))

    assert on_the_day.lines == ()
    assert [line.packs for line in day_after.lines] == [1]
    assert day_after.losses == (Loss("sealant", "A", 12, MONDAY),)


def test_delivery_counts_from_the_morning_after_it_is_due():
    due_before = Delivery("sealant", "2026-011", 12, NEXT_WEDNESDAY)
    due_on_the_day = Delivery("sealant", "2026-011", 12, THURSDAY)

    in_time = planned(a_problem(Demand("sealant", 12, THURSDAY), deliveries=(due_before,)))
    too_late = planned(a_problem(Demand("sealant", 12, THURSDAY), deliveries=(due_on_the_day,)))

    assert in_time.lines == ()
    assert [line.packs for line in too_late.lines] == [1]


def test_reserve_is_kept_after_the_day_and_bought_once():
    # Monday 10 + 6 = 16 -> 2 cases = 24; 14 are left, Tuesday takes 4 and leaves 10, above 6
    plan = planned(
        a_problem(
            Demand("sealant", 10, MONDAY), Demand("sealant", 4, TUESDAY), reserves=(Reserve("sealant", 6),)
        )
    )

    assert [(net.needed, net.net) for net in plan.nets] == [(MONDAY, 16), (TUESDAY, 4)]
    assert [(line.needed, line.packs) for line in plan.lines] == [(MONDAY, 2)]


def test_price_break_holds_from_its_number_of_packs_on():
    pack = replace(CASE, breaks=(PriceBreak(3, Money.of("95.00")), PriceBreak(5, Money.of("90.00"))))

    prices = [pack.unit_price(packs).as_text for packs in (1, 2, 3, 4, 5, 9)]

    assert prices == ["102.00", "102.00", "95.00", "95.00", "90.00", "90.00"]


def test_pack_minimum_is_bought_even_for_less():
    plan = planned(a_problem(Demand("sealant", 1, THURSDAY), packs=(replace(SINGLE, minimum=6),)))

    assert [(line.packs, line.total) for line in plan.lines] == [(6, Money.of("54.00"))]


def test_need_on_monday_must_be_in_on_friday():
    # in by Friday 5; two working days back from Friday is Wednesday 3: today
    plan = planned(a_problem(Demand("sealant", 1, MONDAY)))

    assert [(line.order_by, line.arrives) for line in plan.lines] == [(WEDNESDAY, FRIDAY)]
    assert plan.shortages == ()


def test_holiday_makes_an_order_day_earlier():
    # in by Wednesday 10; Tuesday 9 is a holiday, so Monday 8 and Friday 5 are the two working days before
    supplier = replace(HARBOR, holidays=frozenset({TUESDAY}))

    plan = planned(a_problem(Demand("sealant", 1, THURSDAY), suppliers=(supplier,)))

    assert plan.lines[0].order_by == FRIDAY


def test_late_demand_is_named_with_the_reason():
    # needed tomorrow morning; ordered today (Wednesday 3) with two working days it comes Friday 5
    thursday = date(2026, 6, 4)

    plan = planned(a_problem(Demand("sealant", 5, thursday)))

    (line,), (shortage,) = plan.lines, plan.shortages
    assert (line.is_late, line.order_by, line.arrives) == (True, WEDNESDAY, FRIDAY)
    # a case for 5 tubes
    assert (shortage.quantity, shortage.comes, shortage.cost) == (5, FRIDAY, Money.of("102.00"))
    assert shortage.reason == (
        "Needed on the morning of Thursday 4 June; ordered today from harbor it comes Friday 5 June."
    )


def test_dearer_pack_in_time_goes_before_a_cheaper_one_that_is_late():
    near = Supplier("near", lead_days=0)
    dear = Pack("sealant", "near", "tube", 1, Money.of("11.00"))

    plan = planned(
        a_problem(Demand("sealant", 5, date(2026, 6, 4)), packs=(SINGLE, dear), suppliers=(HARBOR, near))
    )

    assert [(line.pack, line.is_late) for line in plan.lines] == [(dear, False)]
    assert plan.shortages == ()


def test_late_order_is_not_ordered_again():
    problem = a_problem(Demand("sealant", 5, date(2026, 6, 4)))

    again = planned(after_ordering(problem, planned(problem)))

    assert again.lines == ()
    assert [(shortage.quantity, shortage.comes) for shortage in again.shortages] == [(5, FRIDAY)]
    assert again.shortages[0].reason == (
        "Delivery order 0 comes Friday 5 June, after the morning of Thursday 4 June; "
        "nothing ordered today comes sooner."
    )


def test_material_that_nobody_sells_is_named():
    plan = planned(a_problem(Demand("primer", 3, THURSDAY)))

    assert plan.lines == ()
    assert [(s.material, s.quantity, s.comes, s.cost, s.reason) for s in plan.shortages] == [
        ("primer", 3, None, None, "No supplier sells primer.")
    ]


def test_nothing_needed_buys_nothing():
    plan = planned(a_problem(Demand("sealant", 0, THURSDAY)))

    assert (plan.status, plan.cost, plan.nets, plan.lines, plan.gap) == (Status.OPTIMAL, Money(0), (), (), 0)


@settings(max_examples=100, deadline=None)
@given(problems())
def test_stock_and_purchases_cover_every_day_and_no_pack_is_needless(problem):
    # `verify` walks through the days: enough on each, and with one pack fewer somewhere too few
    planned(problem)


@settings(max_examples=100, deadline=None)
@given(problems())
def test_repeating_with_nothing_changed_buys_nothing(problem):
    ordered = after_ordering(problem, planned(problem))

    again = planned(ordered)

    assert again.lines == ()


@settings(max_examples=100, deadline=None)
@given(problems(), st.randoms())
def test_totals_do_not_depend_on_the_order_of_lines(problem, chance: random.Random):
    shuffled = replace(
        problem,
        demands=tuple(chance.sample(problem.demands, len(problem.demands))),
        packs=tuple(chance.sample(problem.packs, len(problem.packs))),
        lots=tuple(chance.sample(problem.lots, len(problem.lots))),
    )

    first, second = plan_purchases(problem), plan_purchases(shuffled)

    assert (first.cost, first.bound, first.lines) == (second.cost, second.bound, second.lines)
    assert [net.net for net in first.nets] == [net.net for net in second.nets]


@settings(max_examples=100, deadline=None)
@given(problems())
def test_splitting_a_demand_over_openings_changes_no_line(problem):
    split = tuple(
        half
        for demand in problem.demands
        for half in (
            replace(demand, quantity=demand.quantity // 2, reference="first"),
            replace(demand, quantity=demand.quantity - demand.quantity // 2, reference="second"),
        )
    )

    assert plan_purchases(replace(problem, demands=split)).lines == plan_purchases(problem).lines
