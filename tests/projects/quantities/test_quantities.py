"""Quantities: exact conversions, and parts that sum to the whole."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.quantities.duration import Duration, Temperature
from projects.quantities.length import ZERO_LENGTH, Length
from projects.quantities.mass import Mass, nearest
from projects.quantities.money import MixedCurrencies, Money, half_up, shares
from projects.quantities.volume import Area, Volume

LENGTHS = st.builds(Length, st.integers(min_value=0, max_value=10**12))


def test_inch_is_exactly_25_4_millimetres() -> None:
    assert Length.inches(1) == Length.mm(Fraction("25.4"))  # NIST SP 811
    assert Length.inches(Fraction(1, 64)).nm == 396_875  # 25.4e6 / 64


def test_pound_is_exactly_0_45359237_kilograms() -> None:
    assert Mass.pounds(1) == Mass.kg(Fraction("0.45359237"))  # NIST SP 811
    assert Mass.pounds(100).in_kg == pytest.approx(45.359237, abs=1e-9)


@given(st.integers(), st.integers(min_value=1))
def test_nearest_whole_number_is_that_of_the_fraction(number: int, of: int) -> None:
    assert nearest(number, of) == round(Fraction(number, of))


def test_half_goes_to_the_even_whole_number() -> None:
    assert [nearest(number, 2) for number in (-3, -1, 1, 3, 5)] == [-2, 0, 0, 2, 2]


def test_gallon_is_231_cubic_inches_and_128_fluid_ounces() -> None:
    # NIST Handbook 44, Appendix C, from memory: 10.1 fl oz = 10.1 x 231 / 128 = 18.2273... in3
    assert Volume.fluid_ounces(128) == Volume.cubic_inches(231)
    assert Volume.fluid_ounces(Fraction("10.1")).in_cubic_inches == pytest.approx(18.22734375, abs=1e-9)


def test_bead_volume_is_section_times_length() -> None:
    # a round bead of 1/2 in, 30 in long: pi / 16 x 30 = 5.890486... in3
    volume = Volume.along(Area.circle(Length.inches(Fraction(1, 2))), Length.inches(30))

    assert volume.in_cubic_inches == pytest.approx(5.890486225, abs=1e-6)


def test_temperature_and_duration_convert_exactly() -> None:
    assert Temperature.fahrenheit(32) == Temperature.celsius(0)
    assert Temperature.celsius(23).in_fahrenheit == pytest.approx(73.4, abs=1e-9)
    assert Duration.hours(1) == Duration.minutes(60)
    assert Duration(61).whole_minutes == 2  # a wait is never shortened


@given(LENGTHS, LENGTHS)
@settings(deadline=None)
def test_sum_less_one_part_is_the_other(one: Length, other: Length) -> None:
    assert (one + other) - other == one
    assert bool(one) == (one != ZERO_LENGTH)


@given(LENGTHS, st.integers(min_value=0, max_value=1000))
@settings(deadline=None)
def test_length_times_a_count_is_the_sum_of_its_pieces(length: Length, count: int) -> None:
    assert length * count == Length(sum(length.nm for _ in range(count)))


@given(st.integers(min_value=-(10**9), max_value=10**9))
@settings(deadline=None)
def test_money_text_is_read_as_the_same_amount(cents: int) -> None:
    assert Money.of(Money(cents).as_text) == Money(cents)


@given(
    st.integers(min_value=0, max_value=10**9),
    st.lists(st.integers(min_value=0, max_value=10**6), min_size=1, max_size=30),
)
@settings(deadline=None)
def test_shares_sum_to_the_whole(cents: int, weights: list[int]) -> None:
    parts = shares(Money(cents), weights)

    assert sum(part.cents for part in parts) == cents
    assert len(parts) == len(weights)


def test_shares_give_the_left_over_cent_to_the_largest_remainder() -> None:
    # 100 cents over 1 : 1 : 1 is 33.3 each; equal remainders go to the earlier part
    assert [part.cents for part in shares(Money(100), [1, 1, 1])] == [34, 33, 33]
    # 10 cents over 5 : 3 : 1 is 5.56, 3.33, 1.11: the left cent goes to the first
    assert [part.cents for part in shares(Money(10), [5, 3, 1])] == [6, 3, 1]
    assert [part.cents for part in shares(Money(5), [0, 0])] == [3, 2]
    assert shares(Money(5), []) == []


def test_money_rounds_halves_up_and_away_from_zero() -> None:
    assert half_up(Fraction(5, 2)) == 3
    assert half_up(Fraction(-5, 2)) == -3
    assert (Money(333) * Fraction(1, 2)).cents == 167  # 166.5


def test_two_currencies_are_never_summed() -> None:
    with pytest.raises(MixedCurrencies):
        Money(1, "USD") + Money(1, "CAD")
