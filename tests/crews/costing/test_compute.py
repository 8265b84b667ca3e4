"""Cost per opening: worked by hand, and to the cent whatever the shares."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings

from crews.costing.cost import Group
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
from projects.errors import BadValue
from projects.quantities.money import Money

from .building import CREW, costed, houses, one_opening

MEMBRANE = MaterialPrice("membrane 9 in", "in", 900, Money.of(42))


def test_material_line_is_quantity_times_the_packs_price_per_unit():
    # 42.00 for 900 in is 4 2/3 cents an inch; 54 1/2 in x 4 2/3 = 254 1/3 cents
    work = one_opening(
        materials=(MaterialUse("membrane 9 in", Fraction("54.5"), "sill strip"),), prices=(MEMBRANE,)
    )

    (part,) = costed(work).openings[0].parts

    assert (part.amount.as_text, part.quantity, part.unit) == ("2.54", Fraction(109, 2), "in")
    assert (part.cents_per_unit, part.basis) == (Fraction(14, 3), "sill strip")


def test_half_a_cent_is_rounded_up():
    # 4 2/3 cents x 3/4 in = 3 1/2 cents
    work = one_opening(materials=(MaterialUse("membrane 9 in", Fraction(3, 4)),), prices=(MEMBRANE,))

    assert costed(work).total == Money(4)


def test_labour_line_is_minutes_times_people_times_the_burdened_mean_wage():
    # (34 + 27 + 21) / 3 x 1.40 / 60 = 0.637777...; 8 min x 2 people x 0.637777 = 10.2044
    work = one_opening(steps=(StepTime("set", 8, 2),))

    (part,) = costed(work).openings[0].parts

    assert (part.amount.as_text, part.quantity, part.unit) == ("10.20", 16, "person-minute")
    assert part.basis == "8 min x 2"


def test_set_up_and_travel_are_carried_by_the_worked_minutes():
    # 375 person-minutes carry 105 of set-up: 105 x 0.637777 = 66.9666, shared 1 : 2 over 125 and 250
    work = HouseWork(
        (
            OpeningWork("W1", steps=(StepTime("set", 125, 1),)),
            OpeningWork("W2", steps=(StepTime("set", 250, 1),)),
        ),
        CREW,
    )

    shares = [opening.parts[-1] for opening in costed(work).openings]

    assert [(share.name, share.amount.as_text) for share in shares] == [
        ("set-up and travel", "22.32"),
        ("set-up and travel", "44.65"),
    ]
    assert [share.quantity for share in shares] == [Fraction(1, 3), Fraction(2, 3)]
    assert shares[0].basis == "105 of 480 min a day, by person-minutes"


def test_whole_packs_and_waste_are_shared_by_use():
    # one roll, 42.00; W1 uses 300 in = 14.00 and W2 100 in = 4.67 (466 2/3 cents); 23.33 are left over,
    # shared 3 : 1: 17.4975 and 5.8325; the cent goes to the larger remainder, W1
    work = HouseWork(
        (
            OpeningWork("W1", (MaterialUse("membrane 9 in", 300),)),
            OpeningWork("W2", (MaterialUse("membrane 9 in", 100),)),
            OpeningWork("W3"),
        ),
        CREW,
        (MaterialPrice("membrane 9 in", "in", 900, Money.of(42), paid=Money.of(42)),),
    )

    cost = costed(work)

    assert [[part.amount.as_text for part in opening.parts] for opening in cost.openings] == [
        ["14.00", "17.50"],
        ["4.67", "5.83"],
        [],
    ]
    assert cost.total == Money.of(42)


def test_rental_is_shared_over_the_openings_that_need_it():
    # 100.00 over three equal weights: 33.34, 33.33, 33.33
    marks = ("W1", "W2", "W3")
    work = HouseWork(
        tuple(OpeningWork(mark) for mark in (*marks, "W4")),
        CREW,
        shared=(SharedCharge("lift", Money.of(100), tuple((mark, 1) for mark in marks), "2 days"),),
    )

    cost = costed(work)

    assert [opening.other.as_text for opening in cost.openings] == ["33.34", "33.33", "33.33", "0.00"]


def test_totals_are_the_sums_of_the_lines():
    work = one_opening(
        materials=(MaterialUse("membrane 9 in", 90),),
        steps=(StepTime("set", 8, 2),),
        charges=(Charge("call-backs", Money.of("1.25"), "allowance"),),
        prices=(MEMBRANE,),
    )

    opening = costed(work).openings[0]

    # 90 x 4 2/3 = 4.20; 10.20 as above; 1.25
    assert [opening.material.as_text, opening.labour.as_text, opening.other.as_text] == [
        "4.20",
        "10.20",
        "1.25",
    ]
    assert opening.total.as_text == "15.65"


@settings(max_examples=150, deadline=None)
@given(houses())
def test_openings_sum_to_the_house_to_the_cent(work):
    cost = costed(work)

    assert cost.total.cents == sum(opening.total.cents for opening in cost.openings)
    assert cost.total.cents == sum(cost.of(group).cents for group in Group)
    lift = [part.amount.cents for o in cost.openings for part in o.parts if part.name == "lift"]
    assert sum(lift) == work.shared[0].total.cents


@settings(max_examples=100, deadline=None)
@given(houses())
def test_order_of_openings_changes_no_group_total(work):
    turned = HouseWork(work.openings[::-1], work.crew, work.prices, work.day, work.shared)

    first, second = costed(work), costed(turned)

    assert [first.of(group) for group in Group] == [second.of(group) for group in Group]


@pytest.mark.parametrize(
    ("build", "problem"),
    [
        (lambda: MaterialUse("tube", -1), "The quantity of tube is below 0."),
        (lambda: StepTime("set", -1, 2), "The time of set is below 0."),
        (lambda: StepTime("set", 1, -2), "The people of set is below 0."),
        (lambda: MaterialPrice("tube", "each", 0, Money(1)), "A pack of tube holds nothing."),
        (lambda: CrewRate((), Fraction(0)), "A crew without wages has no rate."),
        (lambda: CrewRate((Money(1),), Fraction(-1)), "The burden is below 0."),
        (lambda: DayShare(480, 480), "Set-up takes 480 of 480 minutes."),
        (lambda: SharedCharge("lift", Money(1), ()), "lift is shared by no opening."),
        (lambda: SharedCharge("lift", Money(1), (("W1", -1),)), "The weight of W1 in lift is below 0."),
        (
            lambda: OpeningWork("W1", (MaterialUse("tube", 1), MaterialUse("tube", 2))),
            "tube stands 2 times in W1.",
        ),
        (
            lambda: HouseWork((OpeningWork("W1"), OpeningWork("W1")), CREW),
            "W1 stands 2 times in the house.",
        ),
        (
            lambda: HouseWork((OpeningWork("W1", (MaterialUse("tube", 1),)),), CREW),
            "W1 uses tube, which has no price.",
        ),
        (
            lambda: HouseWork((), CREW, shared=(SharedCharge("lift", Money(1), (("W1", 1),)),)),
            "lift is shared by W1, which is not in the house.",
        ),
        (lambda: HouseWork((), CREW, currency="CAD"), "34.00 is in USD."),
        (
            lambda: one_opening(
                charges=(Charge("lift", Money(1)),), shared=(SharedCharge("lift", Money(1), (("W1", 1),)),)
            ),
            "lift stands 2 times in the charges.",
        ),
    ],
)
def test_value_that_cannot_be_is_refused_in_words(build, problem):
    with pytest.raises(BadValue) as refusal:
        build()

    assert refusal.value.problem == problem
