"""A purchase plan that breaks any one promise is caught from problem and plan alone."""

from __future__ import annotations

from dataclasses import replace

import pytest

from materials.ordering.plan import PurchasePlan, Status
from materials.ordering.problem import Demand
from materials.ordering.solve import plan_purchases
from materials.ordering.verify import verify
from projects.quantities.money import Money

from .building import FRIDAY, MONDAY, THURSDAY, TUESDAY, a_problem
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
