"""A cost that breaks any one rule is caught from its inputs alone."""

from __future__ import annotations

from dataclasses import replace

import pytest

from crews.costing.compute import cost_house
from crews.costing.cost import HouseCost
from crews.costing.inputs import (
    DayShare,
    HouseWork,
    MaterialPrice,
    MaterialUse,
    OpeningWork,
    SharedCharge,
    StepTime,
)
from crews.costing.verify import verify
from projects.quantities.money import Money

from .building import CREW

WORK = HouseWork(
    (
        OpeningWork("W1", (MaterialUse("tube", 2),), (StepTime("set", 8, 2),)),
        OpeningWork("W2", (MaterialUse("tube", 1),), (StepTime("set", 9, 2),)),
    ),
    CREW,
    (MaterialPrice("tube", "each", 12, Money.of(102), paid=Money.of(102)),),
    DayShare(),
    (SharedCharge("lift", Money.of(100), (("W1", 1), ("W2", 1))),),
)
GOOD = cost_house(WORK)


def without(name: str) -> HouseCost:
    first = GOOD.openings[0]
    parts = tuple(part for part in first.parts if part.name != name)
    return replace(GOOD, openings=(replace(first, parts=parts), GOOD.openings[1]))


def dearer(name: str, cents: int) -> HouseCost:
    first = GOOD.openings[0]
    parts = tuple(
        replace(part, amount=part.amount + Money(cents)) if part.name == name else part
        for part in first.parts
    )
    return replace(GOOD, openings=(replace(first, parts=parts), GOOD.openings[1]))


def test_cost_that_keeps_every_rule_passes():
    assert verify(WORK, GOOD) == ()


@pytest.mark.parametrize(
    ("cost", "told"),
    [
        (replace(GOOD, openings=GOOD.openings[:1]), "The openings are not those of the house."),
        (without("set"), "The lines of W1 are not its materials, steps and charges."),
        # 8 x 2 x 0.637777 = 10.20
        (dearer("set", 1), "set of W1 is 10.21, which is not quantity x rate."),
        # half of 100.00, and two cents
        (dearer("lift", 2), "lift of W1 is 50.02, which is not quantity x rate."),
        (without("lift"), "lift comes to 5000 cents over the openings, not 10000."),
        # 3 of 12 tubes are 25.50; of the other 76.50 the second opening has a third, 25.50, and its tube 8.50
        (
            without("tube: whole packs and waste"),
            "tube: whole packs and waste comes to 5100 cents over the openings, not 10200.",
        ),
        # 34 person-minutes x 105/375 x 63.7777 = 607.1644 cents, of which W2 has 18/34: 321.44, so 321
        (without("set-up and travel"), "set-up and travel comes to 321 cents over the openings, not 607."),
    ],
)
def test_each_broken_rule_is_named(cost, told):
    assert told in verify(WORK, cost)
