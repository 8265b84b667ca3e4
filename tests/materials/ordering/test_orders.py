"""Orders per supplier, and what a change after issue comes to."""

from __future__ import annotations

from materials.ordering.orders import differences, orders_by_supplier
from materials.ordering.problem import Demand, Pack, Supplier
from projects.quantities.money import Money

from .building import CASE, HARBOR, MONDAY, NEXT_WEDNESDAY, THURSDAY, WEDNESDAY, a_problem, planned

YARD = Supplier("yard", lead_days=1, minimum=Money.of("50.00"))
SCREWS = Pack("screws", "yard", "box of 500", 500, Money.of("42.00"))


def test_each_supplier_gets_one_order_with_its_earliest_day():
    problem = a_problem(
        Demand("sealant", 12, MONDAY),
        Demand("sealant", 12, THURSDAY),
        Demand("screws", 384, THURSDAY),
        packs=(CASE, SCREWS),
        suppliers=(YARD, HARBOR),
    )

    orders = orders_by_supplier(problem, planned(problem))

    # harbor: two cases, the first in by Friday 5, so ordered on Wednesday 3; yard: in by Wednesday 10
    assert [(order.supplier.key, order.total.as_text, len(order.lines)) for order in orders] == [
        ("harbor", "204.00", 2),
        ("yard", "42.00", 1),
    ]
    assert orders[0].order_by == WEDNESDAY
    assert orders[1].lines[0].arrives == NEXT_WEDNESDAY


def test_order_below_the_minimum_says_what_is_missing():
    # 50.00 - 42.00
    problem = a_problem(Demand("screws", 384, THURSDAY), packs=(SCREWS,), suppliers=(YARD,))

    (order,) = orders_by_supplier(problem, planned(problem))

    assert order.missing == Money.of("8.00")


def test_window_that_grew_after_issue_is_a_difference_to_order():
    # three cases were ordered, 36 tubes; now 40 are needed
    (difference,) = differences([("sealant", 24), ("sealant", 12)], {"sealant": 40})

    assert (difference.ordered, difference.needed) == (36, 40)
    assert (difference.to_order, difference.surplus) == (4, 0)


def test_window_that_shrank_after_issue_is_a_surplus():
    (difference,) = differences([("sealant", 36)], {"sealant": 30})

    assert (difference.to_order, difference.surplus) == (0, 6)


def test_window_removed_and_material_added_are_both_told():
    told = differences([("screws", 500)], {"primer": 2})

    assert [(d.material, d.to_order, d.surplus) for d in told] == [("primer", 2, 0), ("screws", 0, 500)]


def test_need_that_is_as_ordered_is_left_out():
    assert differences([("sealant", 36)], {"sealant": 36}) == ()
