"""Small purchase problems for the tests."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import strategies as st

from materials.ordering.plan import PurchasePlan
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
from materials.ordering.verify import verify
from projects.quantities.money import Money

WEDNESDAY = date(2026, 6, 3)
FRIDAY = date(2026, 6, 5)
MONDAY = date(2026, 6, 8)
TUESDAY = date(2026, 6, 9)
NEXT_WEDNESDAY = date(2026, 6, 10)
THURSDAY = date(2026, 6, 11)

HARBOR = Supplier("harbor", lead_days=2)
CASE = Pack("sealant", "harbor", "case of 12", 12, Money.of("102.00"))
SINGLE = Pack("sealant", "harbor", "tube", 1, Money.of("9.00"))


def planned(problem: PurchaseProblem) -> PurchasePlan:
    """Plan and insist that the plan holds."""
    plan = plan_purchases(problem)
    assert verify(problem, plan) == ()
    return plan


def a_problem(*demands: Demand, **rest: object) -> PurchaseProblem:
    """A problem of Wednesday 3 June 2026 with one supplier and one pack."""
    return PurchaseProblem(
        **{"today": WEDNESDAY, "packs": (CASE,), "suppliers": (HARBOR,), **rest}, demands=demands
    )


def after_ordering(problem: PurchaseProblem, plan: PurchasePlan) -> PurchaseProblem:
    """The same problem once everything in the plan has been ordered."""
    ordered = tuple(
        Delivery(line.material, f"order {n}", line.bought, line.arrives) for n, line in enumerate(plan.lines)
    )
    return replace(problem, deliveries=problem.deliveries + ordered)


def a_break(price: int, packs: int) -> tuple[PriceBreak, ...]:
    """A fifth less from so many packs on, in cents; none at 0."""
    return (PriceBreak(packs, Money(price * 4 // 5)),) if packs else ()


def days(first: int = 0, last: int = 14) -> st.SearchStrategy[date]:
    return st.integers(first, last).map(lambda ahead: WEDNESDAY + timedelta(days=ahead))


@st.composite
def problems(draw: st.DrawFn) -> PurchaseProblem:
    """Two materials, two suppliers, stock and deliveries that spoil, come late or come never."""
    materials = st.sampled_from(["sealant", "screws"])
    amounts = st.integers(0, 40)
    good_till = st.one_of(st.none(), days(-2, 16))
    minimum, freight = st.sampled_from([0, 0, 2_000, 9_000]), st.sampled_from([0, 0, 500])
    suppliers = (
        Supplier(
            "near",
            draw(st.integers(0, 2)),
            frozenset(draw(st.lists(days(), max_size=2))),
            Money(draw(minimum)),
            Money(draw(freight)),
        ),
        Supplier("far", draw(st.integers(1, 6)), minimum=Money(draw(minimum)), freight=Money(draw(freight))),
    )
    packs = {
        (material, supplier, size): Pack(
            material, supplier, f"pack of {size}", size, Money(price), a_break(price, at), minimum=minimum
        )
        for material, supplier, size, price, at, minimum in draw(
            st.lists(
                st.tuples(
                    materials,
                    st.sampled_from(["near", "far"]),
                    st.sampled_from([1, 5, 12]),
                    st.integers(0, 900),
                    st.sampled_from([0, 3]),
                    st.sampled_from([1, 1, 2]),
                ),
                max_size=5,
            )
        )
    }
    return PurchaseProblem(
        today=WEDNESDAY,
        demands=tuple(draw(st.lists(st.builds(Demand, materials, amounts, days(-1)), max_size=6))),
        lots=tuple(
            Lot(draw(materials), f"lot {n}", draw(amounts), draw(good_till))
            for n in range(draw(st.integers(0, 3)))
        ),
        deliveries=tuple(
            Delivery(draw(materials), f"delivery {n}", draw(amounts), draw(days()), draw(good_till))
            for n in range(draw(st.integers(0, 3)))
        ),
        reserves=tuple(Reserve(m, draw(st.integers(0, 8))) for m in ("sealant", "screws")),
        packs=tuple(packs.values()),
        suppliers=suppliers,
    )
