"""A purchase plan that breaks any one promise is caught from problem and plan alone."""

from __future__ import annotations

from dataclasses import replace

import pytest

from materials.ordering.plan import PurchasePlan, Status
from materials.ordering.problem import Demand, PriceBreak, Supplier
from materials.ordering.solve import plan_purchases
from materials.ordering.verify import verify
from projects.quantities.money import Money

from .building import CASE, FRIDAY, HARBOR, MONDAY, SINGLE, THURSDAY, TUESDAY, a_problem
from .test_solve import WORKED

GOOD = plan_purchases(WORKED)


def with_line(**changes: object) -> PurchasePlan:
    return replace(GOOD, lines=(replace(GOOD.lines[0], **changes),))


def test_plan_that_keeps_every_promise_passes():
    assert verify(WORKED, GOOD) == ()


@pytest.mark.parametrize(
    ("plan", "told"),
    [
        (replace(GOOD, lines=()), "sealant is 25 short on 2026-06-11."),
        # 2 cases = 24, one tube short
        (with_line(packs=2), "sealant is 1 short on 2026-06-11."),
        (with_line(packs=4), "Fewer than 4 x case of 12 would do for 2026-06-11."),
        (with_line(total=Money(1)), "3 x case of 12 is priced wrongly."),
        (with_line(unit_price=Money(1)), "3 x case of 12 is priced wrongly."),
        (with_line(quantity=40), "3 x case of 12 is too few."),
        (with_line(order_by=TUESDAY), "case of 12 ordered on 2026-06-09 does not arrive on 2026-06-10."),
        (
            with_line(arrives=THURSDAY, order_by=TUESDAY),
            "case of 12 is late, though another pack could come in time.",
        ),
        (with_line(quantity=24), "The lines of sealant for 2026-06-11 do not give what is open."),
        (replace(GOOD, charges=()), "The charges of harbor do not add up."),
        (
            replace(GOOD, nets=(*GOOD.nets, replace(GOOD.nets[1], needed=FRIDAY))),
            "The net demand of sealant on 2026-06-05 is for nothing.",
        ),
        (replace(GOOD, losses=()), "The losses of sealant do not add up."),
        (replace(GOOD, cost=Money(1)), "The cost is 30600 cents, not 1."),
        (replace(GOOD, bound=Money(40000)), "The bound 40000 is above the cost 30600."),
        (replace(GOOD, status=Status.FEASIBLE), "feasible does not go with cost and bound."),
        (
            replace(GOOD, nets=(GOOD.nets[0], replace(GOOD.nets[1], net=24))),
            "The net demand of sealant on 2026-06-11 does not add up.",
        ),
    ],
)
def test_each_broken_promise_is_named(plan, told):
    assert told in verify(WORKED, plan)


def test_order_day_before_today_is_named():
    late = a_problem(Demand("sealant", 5, MONDAY), today=FRIDAY)
    plan = plan_purchases(a_problem(Demand("sealant", 5, MONDAY)))

    faults = verify(late, plan)

    assert "case of 12 would have to be ordered on 2026-06-03, before today." in faults


def test_lateness_that_nobody_mentions_is_named():
    problem = a_problem(Demand("sealant", 5, FRIDAY))
    plan = plan_purchases(problem)

    assert verify(problem, plan) == ()
    assert "sealant is late for 2026-06-05, and nothing says so." in verify(
        problem, replace(plan, shortages=())
    )


def test_order_that_lacks_its_minimum_without_a_word_is_named():
    yard = replace(HARBOR, minimum=Money.of("500.00"))
    problem = replace(WORKED, suppliers=(yard,))
    plan = plan_purchases(problem)
    (charge,) = plan.charges

    assert verify(problem, plan) == ()
    assert "The order to harbor is below the minimum, and nothing says so." in verify(
        problem, replace(plan, charges=(replace(charge, told=""),))
    )


def test_order_below_a_minimum_that_another_would_take_is_named():
    # 306.00 of 500.00 at harbor, though near sells the same without a minimum
    problem = replace(WORKED, suppliers=(replace(HARBOR, minimum=Money.of("500.00")),))
    plan = plan_purchases(problem)
    near = replace(CASE, supplier="near", price=Money.of("400.00"))
    wider = replace(
        problem, packs=(CASE, near), suppliers=(*problem.suppliers, Supplier("near", lead_days=2))
    )

    assert "The order to harbor is below the minimum, though others sell all that it could hold." in verify(
        wider, plan
    )


def test_freight_that_is_left_out_is_named():
    problem = replace(WORKED, suppliers=(replace(HARBOR, freight=Money.of("15.00")),))

    faults = verify(problem, GOOD)

    assert "The charges of harbor do not add up." in faults


def test_material_from_two_suppliers_is_named_where_it_is_undivided():
    # 13 tubes: a case of harbor and a tube of the corner's
    corner = Supplier("corner", lead_days=2)
    cheap = replace(SINGLE, supplier="corner", price=Money.of("8.60"))
    problem = a_problem(
        Demand("sealant", 13, THURSDAY), packs=(CASE, SINGLE, cheap), suppliers=(HARBOR, corner)
    )
    plan = plan_purchases(problem)

    assert verify(problem, plan) == ()
    assert verify(replace(problem, undivided=True), plan) == ("sealant comes from more than one supplier.",)


def test_price_of_a_break_that_is_not_reached_is_named():
    tube = replace(SINGLE, breaks=(PriceBreak(10, Money.of("8.00")),))
    problem = a_problem(Demand("sealant", 12, THURSDAY), packs=(tube,))
    plan = plan_purchases(problem)
    (line,) = plan.lines
    fewer = replace(line, packs=9, total=Money.of("72.00"))

    assert "9 x tube is priced wrongly." in verify(problem, replace(plan, lines=(fewer,)))


def test_later_of_two_late_suppliers_is_named():
    slow = Supplier("slow", lead_days=4)
    late = a_problem(Demand("sealant", 5, FRIDAY), suppliers=(slow,), packs=(replace(CASE, supplier="slow"),))
    plan = plan_purchases(late)
    wider = replace(late, packs=(*late.packs, CASE), suppliers=(slow, HARBOR))

    # harbor: Wednesday 3 and two working days; slow: four
    assert "case of 12 comes on 2026-06-09, though another pack could come on 2026-06-05." in verify(
        wider, plan
    )


def test_what_nobody_sells_and_nobody_mentions_is_named():
    problem = a_problem(Demand("primer", 3, THURSDAY))
    plan = plan_purchases(problem)

    assert "primer can't be had for 2026-06-11, and nothing says so." in verify(
        problem, replace(plan, shortages=())
    )
