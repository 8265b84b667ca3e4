"""Small houses for the costing tests."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st

from crews.costing.compute import cost_house
from crews.costing.cost import HouseCost
from crews.costing.inputs import (
    Charge,
    CrewRate,
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

# wages 34, 27, 21 an hour and 40 % burden (field guide section 11, E)
CREW = CrewRate((Money.of(34), Money.of(27), Money.of(21)), Fraction(40, 100))


def costed(work: HouseWork) -> HouseCost:
    """Cost the house and insist that the cost holds."""
    cost = cost_house(work)
    assert verify(work, cost) == ()
    return cost


def one_opening(**work: object) -> HouseWork:
    """A house of one opening W1 without set-up."""
    opening = OpeningWork(
        "W1", **{name: work.pop(name) for name in ("materials", "steps", "charges") if name in work}
    )
    return HouseWork(**{"openings": (opening,), "crew": CREW, "day": DayShare(480, 0), **work})


@st.composite
def houses(draw: st.DrawFn) -> HouseWork:
    """Up to five openings with odd quantities, odd prices and shares that do not divide."""
    cents = st.integers(0, 99_999).map(Money)
    amounts = st.fractions(0, 500, max_denominator=16)
    marks = [f"W{n}" for n in range(draw(st.integers(1, 5)))]
    materials = draw(st.lists(st.sampled_from(["membrane 9 in", "tube", "screw"]), unique=True))
    steps = draw(st.lists(st.sampled_from(["set", "fasten", "face bead"]), unique=True))
    openings = tuple(
        OpeningWork(
            mark,
            tuple(MaterialUse(m, draw(amounts)) for m in materials if draw(st.booleans())),
            tuple(StepTime(s, draw(amounts), draw(st.integers(0, 3))) for s in steps),
            tuple(Charge("call-backs", draw(cents)) for _ in range(draw(st.integers(0, 1)))),
        )
        for mark in marks
    )
    return HouseWork(
        openings,
        CrewRate(tuple(draw(st.lists(cents, min_size=1, max_size=3))), draw(st.fractions(0, 1))),
        tuple(
            MaterialPrice(m, "in", draw(st.integers(1, 900)), draw(cents), draw(st.one_of(st.none(), cents)))
            for m in materials
        ),
        DayShare(480, draw(st.integers(0, 479))),
        (SharedCharge("lift", draw(cents), tuple((mark, draw(st.integers(0, 3))) for mark in marks)),),
    )
