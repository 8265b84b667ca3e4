"""A purchase problem that cannot be is refused where it is built."""

from __future__ import annotations

from dataclasses import replace

import pytest

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
from projects.errors import BadValue
from projects.quantities.money import Money

from .building import CASE, HARBOR, MONDAY, WEDNESDAY


@pytest.mark.parametrize(
    ("build", "problem"),
    [
        (lambda: Demand("sealant", -1, MONDAY), "The demand for sealant is -1."),
        (lambda: Lot("sealant", "A", -1), "Lot A is -1."),
        (lambda: Delivery("sealant", "2026-011", -1, MONDAY), "Delivery 2026-011 is -1."),
        (lambda: Reserve("sealant", -1), "The reserve of sealant is -1."),
        (lambda: Supplier("harbor", -1), "The lead time of harbor is -1."),
        (lambda: Supplier("harbor", 1, minimum=Money(-1)), "The minimum of harbor in cents is -1."),
        (lambda: Pack("sealant", "harbor", "tube", 0, Money(900)), "The size of tube is 0."),
        (lambda: Pack("sealant", "harbor", "tube", 1, Money(-1)), "The price of tube in cents is -1."),
        (lambda: Pack("sealant", "harbor", "tube", 1, Money(1), minimum=0), "The minimum of tube is 0."),
        (lambda: Supplier("harbor", 1, freight=Money(-1)), "The freight of harbor in cents is -1."),
        (
            lambda: replace(CASE, breaks=(PriceBreak(3, Money.of("102.01")),)),
            "From 3 packs on, case of 12 gets dearer.",
        ),
        (
            lambda: replace(CASE, breaks=(PriceBreak(0, Money.of("99.00")),)),
            "The packs of a break of case of 12 is 0.",
        ),
        (
            lambda: PurchaseProblem(WEDNESDAY, (), packs=(CASE,)),
            "case of 12 is sold by 'harbor', who is not among the suppliers.",
        ),
        (
            lambda: PurchaseProblem(WEDNESDAY, (), suppliers=(HARBOR, HARBOR)),
            "The supplier harbor is there 2 times.",
        ),
        (
            lambda: PurchaseProblem(WEDNESDAY, (), packs=(CASE, CASE), suppliers=(HARBOR,)),
            "The pack sealant, case of 12 from harbor is there 2 times.",
        ),
        (
            lambda: PurchaseProblem(WEDNESDAY, (), packs=(CASE,), suppliers=(HARBOR,), currency="CAD"),
            "case of 12 is priced in USD, not in CAD.",
        ),
    ],
)
def test_value_that_cannot_be_is_refused_in_words(build, problem):
    with pytest.raises(BadValue) as refusal:
        build()

    assert refusal.value.problem == problem
