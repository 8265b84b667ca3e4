"""What an opening lacks once part of it was ordered."""

from __future__ import annotations

from collections import Counter
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from materials.ordering.lacking import NOTHING, Amount, lacking, total

PIECES = st.lists(st.integers(1, 9), max_size=4).map(Counter)


def test_what_was_not_ordered_at_all_lacks_whole():
    assert lacking(Amount(300), NOTHING) == Amount(300)
    assert lacking(Amount.cut({77: 2, 54: 2}), NOTHING) == Amount(262, {77: 2, 54: 2})


def test_counted_goods_lack_the_rest_and_never_less_than_none():
    assert lacking(Amount(36), Amount(34)) == Amount(2)
    assert lacking(Amount(34), Amount(34)) == NOTHING
    assert lacking(Amount(30), Amount(34)) == NOTHING


def test_piece_that_was_cut_too_short_is_lacking_whole():
    # as much length on both sides, but no 60 comes from two of 50
    assert lacking(Amount.cut({60: 1, 40: 1}), Amount.cut({50: 2})) == Amount(60, {60: 1})


def test_longer_piece_serves_for_a_shorter_one():
    assert lacking(Amount.cut({42: 2}), Amount.cut({54: 2})) == NOTHING


def test_shortest_piece_that_serves_is_taken():
    # 50 from 55, so that 60 still serves for 58
    assert lacking(Amount.cut({50: 1, 58: 1}), Amount.cut({55: 1, 60: 1})) == NOTHING


def test_two_windows_that_swapped_sizes_lack_nothing_together():
    swapped = total([Amount.cut({77: 2}), Amount.cut({53: 2})])

    assert lacking(swapped, total([Amount.cut({53: 2}), Amount.cut({77: 2})])) == NOTHING


@settings(deadline=None)
@given(PIECES, PIECES)
def test_no_choice_of_pieces_would_leave_less_to_cut(needed, had):
    found = lacking(Amount.cut(needed), Amount.cut(had)).quantity

    assert found == least_by_trying(list(needed.elements()), list(had.elements()))


def least_by_trying(wanted, there):
    """Return the least length left to cut over all ways to give pieces out; 0 stands for none given."""
    ways = set(permutations([*there, *[0] * len(wanted)], len(wanted)))
    return min(sum(want for want, one in zip(wanted, way, strict=True) if one < want) for way in ways)


@given(PIECES)
def test_what_is_there_already_is_never_bought_again(pieces):
    assert lacking(Amount.cut(pieces), Amount.cut(pieces)) == NOTHING
