"""Planned against actual: price, quantity, time and rate sum to the whole difference."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings

from crews.costing.compute import cost_house
from crews.costing.cost import OpeningCost
from crews.costing.inputs import CrewRate, HouseWork, MaterialPrice, MaterialUse, StepTime
from crews.costing.variance import Variance, VarianceLine, explain, faults
from projects.quantities.money import Money

from .building import CREW, costed, houses, one_opening


def opening(work: HouseWork) -> OpeningCost:
    return costed(work).openings[0]


def explained(planned: OpeningCost, actual: OpeningCost) -> Variance:
    variance = explain(planned, actual)
    assert faults(planned, actual, variance) == ()
    return variance


def tubes(quantity: int, price: str) -> OpeningCost:
    return opening(
        one_opening(
            materials=(MaterialUse("tube", quantity),),
            prices=(MaterialPrice("tube", "each", 1, Money.of(price)),),
        )
    )


def setting(minutes: int, wage: str) -> OpeningCost:
    crew = CrewRate((Money.of(wage),), Fraction(0))
    return opening(one_opening(steps=(StepTime("set", minutes, 2),), crew=crew))


def cents(line: VarianceLine) -> list[int]:
    return [amount.cents for amount in line.amounts]


def test_more_used_at_a_higher_price_is_quantity_and_price():
    # planned 2 x 9.00 = 18.00, used 3 x 9.50 = 28.50: one more at 9.00, and three at 0.50 more
    (line,) = explained(tubes(2, "9.00"), tubes(3, "9.50")).lines

    assert line.difference == Money(1050)
    assert cents(line) == [150, 900, 0, 0, 0]


def test_longer_work_by_dearer_people_is_time_and_rate():
    # planned 8 min x 2 x 0.50 = 8.00, actual 10 x 2 x 0.60 = 12.00: 4 more at 0.50, 20 at 0.10 more
    (line,) = explained(setting(8, "30.00"), setting(10, "36.00")).lines

    assert cents(line) == [0, 0, 200, 200, 0]


def test_same_price_leaves_no_cent_to_the_price():
    # 1/3 cent each: 1 piece is 0, 2 pieces are 1 cent; the cent of rounding is quantity, not price
    price = (MaterialPrice("screw", "each", 3, Money(1)),)
    one = opening(one_opening(materials=(MaterialUse("screw", 1),), prices=price))
    two = opening(one_opening(materials=(MaterialUse("screw", 2),), prices=price))

    (line,) = explained(one, two).lines

    assert cents(line) == [0, 1, 0, 0, 0]


def test_line_that_was_not_planned_is_all_quantity():
    nothing = opening(one_opening())

    (line,) = explained(nothing, tubes(1, "9.00")).lines

    assert (line.planned, line.actual, cents(line)) == (Money(0), Money(900), [0, 900, 0, 0, 0])


def test_step_that_was_not_needed_is_all_time():
    (line,) = explained(setting(8, "30.00"), opening(one_opening())).lines

    assert (line.actual, cents(line)) == (Money(0), [0, 0, -800, 0, 0])


def test_amounts_that_do_not_sum_are_named():
    planned, actual = tubes(2, "9.00"), tubes(3, "9.50")
    (line,) = explain(planned, actual).lines

    bent = Variance("W1", (replace(line, price=Money(0)),))

    assert faults(planned, actual, bent) == ("tube: the amounts do not sum to the difference.",)
    assert faults(planned, actual, Variance("W1", ())) == ("The lines of W1 do not sum to its difference.",)


@settings(max_examples=150, deadline=None)
@given(houses(), houses())
def test_parts_sum_to_the_whole_difference(planned_work, actual_work):
    planned, actual = cost_house(planned_work).openings[0], cost_house(actual_work).openings[0]

    variance = explained(planned, actual)

    assert sum(sum(cents(line)) for line in variance.lines) == (actual.total - planned.total).cents


@settings(max_examples=60, deadline=None)
@given(houses())
def test_work_that_went_as_planned_has_no_difference(work):
    planned = cost_house(work).openings[0]

    assert all(cents(line) == [0, 0, 0, 0, 0] for line in explained(planned, planned).lines)


def test_crew_of_the_field_guide_costs_38_27_an_hour():
    # (34 + 27 + 21) / 3 = 27.3333; x 1.40 = 38.2666
    assert CREW.cents_per_minute * 60 == Fraction(11480, 3)
