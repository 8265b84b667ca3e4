"""The numbers of orders and of those that change them."""

from __future__ import annotations

import pytest

from materials.ordering.numbers import OrderNumber, next_step, read_number, step_of


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("2026-004", OrderNumber(2026, 4)),
        ("2026-004-1", OrderNumber(2026, 4, 1)),
        ("2026-1000-12", OrderNumber(2026, 1000, 12)),
    ],
)
def test_a_number_is_read_as_it_is_written(text, number) -> None:
    assert read_number(text) == number
    assert str(number) == text


@pytest.mark.parametrize(
    "text", ["", "2026-4", "26-004", "2026-004-0", "2026-004-01", "2026-004-1-1", "draft"]
)
def test_what_is_no_number_of_ours_is_none(text) -> None:
    assert read_number(text) is None


def test_each_change_counts_on() -> None:
    assert (next_step("2026-004"), next_step("2026-004-1")) == ("2026-004-1", "2026-004-2")
    assert (step_of("2026-004"), step_of("2026-004-3")) == (0, 3)
