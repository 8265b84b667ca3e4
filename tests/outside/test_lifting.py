"""Glass weights and the NIOSH lifting equation against published examples."""

from __future__ import annotations

from fractions import Fraction

import pytest

from openings.takeoff.lifting import IDEAL_LIMIT, glass_weight
from openings.takeoff.lifting_equation import (
    FREQUENCY_MULTIPLIERS,
    Lift,
    distance_multiplier,
    frequency_multiplier,
    horizontal_multiplier,
    recommended_limit,
    turn_multiplier,
    vertical_multiplier,
)
from openings.takeoff.opening import GlassPanes
from projects.quantities.length import Length
from tests.openings.takeoff.cases import inch, opening


def test_two_panes_of_three_millimetres():
    # T35 (D): 36 x 48 in, 2 x 3 mm at 2500 kg/m3
    weight = glass_weight(opening(width=36, height=48, glass=GlassPanes(2, Length.mm(3))))

    assert weight.in_kg == pytest.approx(16.72, abs=0.01)
    assert weight.in_pounds == pytest.approx(36.87, abs=0.01)


@pytest.mark.parametrize(
    ("thickness", "table"), [("1/8", 1.64), ("3/16", 2.45), ("1/4", 3.27), ("3/8", 4.91), ("1/2", 6.54)]
)
def test_glass_per_square_foot(thickness, table):
    # T34 (P): weight tables in lb/ft2, within 1 %
    weight = glass_weight(opening(width=12, height=12, glass=GlassPanes(1, inch(thickness))))

    assert weight.in_pounds == pytest.approx(table, rel=0.01)


def test_quarter_inch_glass_at_true_density():
    # T34 (D): 3.251 lb/ft2 at 2500 kg/m3
    weight = glass_weight(opening(width=12, height=12, glass=GlassPanes(1, inch("1/4"))))

    assert weight.in_pounds == pytest.approx(3.251, abs=5e-4)


def test_ideal_lift_is_the_load_constant():
    # P: NIOSH 94-110 p. 7: 51 lb
    assert recommended_limit(Lift()) == IDEAL_LIMIT == 51


EXAMPLE_4 = {"travel": Fraction(37), "frequency": Fraction(3), "coupling": "fair", "origin": Fraction(22)}


def test_worked_example_at_its_origin():
    # T29 (P multipliers, results; H and F reconstructed): NIOSH Example 4, p. 46: 34.81, printed 34.9
    limit = recommended_limit(Lift(horizontal=Fraction(10), vertical=Fraction(22), **EXAMPLE_4))

    assert float(limit) == pytest.approx(34.81, abs=0.005)
    assert float(limit) == pytest.approx(34.9, abs=0.1)


def test_worked_example_at_its_destination():
    # T29: 15.25, printed 15.2
    limit = recommended_limit(Lift(horizontal=Fraction(20), vertical=Fraction(59), **EXAMPLE_4))

    assert float(limit) == pytest.approx(15.25, abs=0.005)
    assert float(limit) == pytest.approx(15.2, abs=0.1)


def test_formulas_hold_where_the_printed_table_is_wrong():
    # T31 (P): H = 23 in is .4348, printed .44; H = 22 in .4545, printed .46
    assert float(horizontal_multiplier(Fraction(23))) == pytest.approx(0.4348, abs=5e-5)
    assert float(horizontal_multiplier(Fraction(22))) == pytest.approx(0.4545, abs=5e-5)


def test_multipliers_of_a_safety_institutes_frequency_page():
    # T30 (P, the page rounds): turning 90 degrees .71; 10 lifts a minute for 8 h from 30 in on .13
    assert float(turn_multiplier(Fraction(90))) == pytest.approx(0.71, abs=0.005)
    assert frequency_multiplier(Lift(duration="up to 8 hours", frequency=Fraction(10))) == Fraction(13, 100)


@pytest.mark.parametrize(
    ("multiplier", "inside", "beyond"),
    [
        (horizontal_multiplier, 25, 26),
        (vertical_multiplier, 70, 71),
        (distance_multiplier, 70, 71),
        (turn_multiplier, 135, 136),
    ],
)
def test_multipliers_end_where_published(multiplier, inside, beyond):
    # P: NIOSH 94-110 pp. 8-15
    assert multiplier(Fraction(inside)) > 0
    assert multiplier(Fraction(beyond)) == 0


def test_close_loads_and_short_lifts_count_as_ten_inches():
    # P, same pages
    assert horizontal_multiplier(Fraction(4)) == 1
    assert distance_multiplier(Fraction(4)) == 1


def test_frequency_is_read_between_the_rows():
    # P, p. 7: linear interpolation; 3.5 a minute within an hour: between .88 and .84
    assert frequency_multiplier(Lift(frequency=Fraction(7, 2))) == Fraction(86, 100)
    assert frequency_multiplier(Lift(frequency=Fraction(1, 10))) == 1
    assert frequency_multiplier(Lift(frequency=Fraction(16))) == 0


def test_frequency_goes_by_where_the_lift_begins():
    # P, p. 15: 14 a minute within an hour: 0 from below 30 in, .31 from 30 in on
    often = {"frequency": Fraction(14), "vertical": Fraction(40)}

    assert frequency_multiplier(Lift(**often, origin=Fraction(20))) == 0
    assert frequency_multiplier(Lift(**often)) == Fraction(31, 100)


def test_longer_work_never_allows_more():
    # P as data: eight code copies agree
    short, moderate, long = (FREQUENCY_MULTIPLIERS[name] for name in FREQUENCY_MULTIPLIERS)

    for place in (0, 1):
        assert len(short[place]) == len(moderate[place]) == len(long[place]) == 17
        for one, two, eight in zip(short[place], moderate[place], long[place], strict=True):
            assert one >= two >= eight
