"""Lengths as text: the golden table, both ways and the printed forms."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.errors import BadValue
from projects.quantities.length import NM_PER_INCH, Length
from projects.quantities.text import format_feet, format_length, format_rounded, parse_length
from tests.projects.quantities.spellings import INCHES, MILLIMETRES, REFUSED, WITH_COMMA

BANNED = ("invalid", "oops", "error occurred", "please try again later", "null", "exception")


def test_golden_table_has_two_hundred_spellings_sixty_refused() -> None:
    assert len(INCHES) + len(MILLIMETRES) + len(WITH_COMMA) + len(REFUSED) >= 200
    assert len(set(REFUSED)) >= 60
    assert not set(REFUSED) & {*INCHES, *MILLIMETRES}


@pytest.mark.parametrize(("text", "inches"), INCHES.items())
def test_spelling_in_inches_is_read_exactly(text: str, inches: str) -> None:
    assert parse_length(text) == Length.inches(Fraction(inches))


@pytest.mark.parametrize(("text", "millimetres"), MILLIMETRES.items())
def test_metric_spelling_is_read_exactly(text: str, millimetres: str) -> None:
    assert parse_length(text) == Length.mm(Fraction(millimetres))


@pytest.mark.parametrize(("text", "millimetres"), WITH_COMMA.items())
def test_decimal_comma_is_read_where_the_file_uses_it(text: str, millimetres: str) -> None:
    assert parse_length(text, decimal_comma=True) == Length.mm(Fraction(millimetres))


@pytest.mark.parametrize("text", REFUSED)
def test_spelling_with_two_or_no_readings_is_refused(text: str) -> None:
    with pytest.raises(BadValue) as refused:
        parse_length(text)

    assert refused.value.value == text


@pytest.mark.parametrize("text", ["1.200,5 mm", "1,2,3 m", "1,"])
def test_commas_and_points_together_are_refused_even_in_a_file_of_commas(text: str) -> None:
    with pytest.raises(BadValue):
        parse_length(text, decimal_comma=True)


@pytest.mark.parametrize("text", REFUSED)
def test_refusal_says_in_few_words_what_to_do(text: str) -> None:
    with pytest.raises(BadValue) as refused:
        parse_length(text)

    words = str(refused.value)
    assert refused.value.remedy
    assert len(words.replace(text, "it").split()) <= 25
    assert not any(banned in words.replace(text, "").lower() for banned in BANNED)


@given(st.integers(min_value=0, max_value=10**13))
@settings(deadline=None)
def test_printed_length_is_read_as_the_same_length(nanometres: int) -> None:
    length = Length(nanometres)

    assert parse_length(format_length(length)) == length


@given(st.integers(min_value=0, max_value=64 * 2400))
@settings(deadline=None)
def test_printed_sixty_fourths_are_read_as_the_same_length(sixty_fourths: int) -> None:
    length = Length.inches(Fraction(sixty_fourths, 64))

    assert parse_length(format_length(length)) == length
    assert "mm" not in format_length(length)


@given(st.integers(min_value=0, max_value=16 * 2400))
@settings(deadline=None)
def test_printed_feet_and_inches_are_read_as_the_same_length(sixteenths: int) -> None:
    length = Length.inches(Fraction(sixteenths, 16))

    assert parse_length(format_feet(length)) == length
    assert parse_length(format_rounded(length)) == length


@given(st.integers(min_value=0, max_value=10**7))
@settings(deadline=None)
def test_tenths_of_millimetres_survive_inches_and_back(tenths: int) -> None:
    length = Length.mm(Fraction(tenths, 10))

    assert Length.inches(length.exact_inches) == length
    assert parse_length(f"{length.nm // 10**6}.{length.nm // 10**5 % 10} mm") == length


@given(st.text(max_size=80))
@settings(deadline=None)
def test_any_text_is_a_length_or_refused(text: str) -> None:
    try:
        length = parse_length(text)
    except BadValue:
        return

    assert length.nm >= 0


# halves go up: 36 1/32 is nearer to neither, so 36 1/16; 36 1/64 is nearer to 36
@pytest.mark.parametrize(
    ("inches", "shown"),
    [
        ("36", '36"'),
        ("73/2", '36 1/2"'),
        ("1153/32", '36 1/16"'),
        ("2305/64", '36"'),
        ("1/2", '1/2"'),
        ("0", '0"'),
    ],
)
def test_rounded_length_shows_sixteenths_half_up(inches: str, shown: str) -> None:
    assert format_rounded(Length.inches(Fraction(inches))) == shown


@pytest.mark.parametrize(
    ("inches", "shown"),
    [("36", "3'-0\""), ("73/2", "3'-0 1/2\""), ("12", "1'-0\""), ("1/2", "0'-0 1/2\""), ("383/32", "1'-0\"")],
)
def test_feet_and_inches_name_the_nought_inches(inches: str, shown: str) -> None:
    assert format_feet(Length.inches(Fraction(inches))) == shown


def test_length_that_is_no_sixty_fourth_prints_as_millimetres() -> None:
    assert format_length(Length.mm(914)) == "914 mm"
    assert format_length(Length(914_300_001)) == "914.300001 mm"
    assert format_length(Length.mm(Fraction("914.4"))) == '36"'
    assert Length.inches(1).nm == NM_PER_INCH
