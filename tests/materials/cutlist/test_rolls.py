"""Cut lists of one material: every strip once, what lies there first, the longest strip first."""

from __future__ import annotations

import time
from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutlist.rolls import Source, lay_out
from materials.cutlist.strips import Opening, Strip
from projects.quantities.length import NM_PER_INCH

FOOT = 12 * NM_PER_INCH


def strip(inches: int, mark: str = "W1", house: str = "LOT-1", part: str = "jamb strip") -> Strip:
    return Strip(Opening(1, house, mark), part, "left jamb", inches * NM_PER_INCH)


def roll(feet: int, cents: int, count: int | None = None) -> Source:
    """Return rolls; without a count they are still to come."""
    return Source(f"{feet} ft {'to come' if count is None else 'here'}", feet * FOOT, cents, count)


def offcut(inches: int) -> Source:
    return Source(f"offcut {inches}", inches * NM_PER_INCH, is_offcut=True)


def laid(strips, *sources):
    return lay_out(strips, sources, seconds=5, clock=time.monotonic)


def told(rolls) -> list[tuple[str, list[int], int]]:
    """Return each roll as its name, its strips' inches in order, and the inches left."""
    return [
        (
            each.source.name,
            [strip.length // NM_PER_INCH for strip in each.strips],
            each.left // NM_PER_INCH,
        )
        for each in rolls
    ]


def test_an_offcut_is_cut_before_a_roll_and_the_longest_strip_first() -> None:
    # strips 100, 80, 60, 40 = 280 in; the offcut of 120 in holds 80 + 40 whole, or 60 + 40, or 100.
    # A roll of 50 ft = 600 in holds all 280: with the offcut or without it one roll is bought, unless the
    # offcut is 280 or longer, which it is not. So one roll and the free offcut; what is left together is
    # 600 + 120 - 280 = 440 at most, where the offcut is opened.
    found = laid([strip(60), strip(100), strip(40), strip(80)], roll(50, 4_000, 3), offcut(120))

    assert not found.problems
    cut = [inches for _, lengths, _ in told(found.rolls) for inches in lengths]
    assert sorted(cut) == [40, 60, 80, 100]
    assert all(lengths == sorted(lengths, reverse=True) for _, lengths, _ in told(found.rolls))
    assert [name for name, _, _ in told(found.rolls)][-1] == "50 ft here"


def test_an_offcut_that_holds_everything_saves_the_roll() -> None:
    # 80 + 40 = 120, all of the offcut
    found = laid([strip(40), strip(80)], roll(50, 4_000), offcut(120))

    assert told(found.rolls) == [("offcut 120", [80, 40], 0)]


def test_what_lies_there_goes_before_what_is_to_come() -> None:
    # 7 strips of 150 in = 1,050 in. One roll of 75 ft = 900 in is there for 6 of them; the cheaper roll of
    # 50 ft = 600 in is to come: its 3,000 cents count double, so that the one there is opened first, and one
    # to come for the seventh. 1,500 - 1,050 = 450 in are left, in one piece.
    found = laid([strip(150, f"W{n}") for n in range(7)], roll(50, 3_000), roll(75, 5_000, 1))

    assert [name for name, _, _ in told(found.rolls)] == ["75 ft here", "50 ft to come"]
    assert sorted(left for _, _, left in told(found.rolls)) == [0, 450]


def test_each_house_gets_its_own_strips() -> None:
    strips = [strip(70, "W1", "LOT-1"), strip(70, "W9", "LOT-2"), strip(70, "W2", "LOT-1")]

    found = laid(strips, roll(50, 3_000))

    assert sorted((cut.opening.house, cut.opening.mark) for each in found.rolls for cut in each.strips) == [
        ("LOT-1", "W1"),
        ("LOT-1", "W2"),
        ("LOT-2", "W9"),
    ]


def test_a_strip_that_no_roll_holds_is_named_with_both_lengths() -> None:
    found = laid([strip(700, "W7", part="head strip")], roll(50, 3_000))

    assert found.rolls == ()
    (problem,) = found.problems
    # 700 in = 58 ft 4 in
    assert problem.problem == "The head strip of W7 is 58'-4\" long; the longest roll is 50'-0\"."


def test_without_any_roll_the_reason_is_said() -> None:
    (problem,) = laid([strip(70)]).problems

    assert problem.problem == "Nothing lies in stock, and no supplier has a price."


LAP = 4 * NM_PER_INCH


def spliced(strips, *sources):
    return lay_out(strips, sources, seconds=5, clock=time.monotonic, lap=LAP)


def test_a_strip_longer_than_every_roll_is_made_of_two_with_the_lap() -> None:
    # 700 in from rolls of 600: 600 and 700 + 4 - 600 = 104
    found = spliced([strip(700, part="drip cap")], roll(50, 3_000))

    halves = sorted((cut.number, cut.length // NM_PER_INCH) for each in found.rolls for cut in each.strips)
    assert halves == [(1, 600), (2, 104)]
    assert {cut.whole for each in found.rolls for cut in each.strips} == {700 * NM_PER_INCH}


def test_a_splice_saves_a_roll() -> None:
    # five strips of 115 in two sticks of 290: two in each, and the fifth of 60 + 59, which are 115 + 4;
    # in one piece the fifth takes a third stick
    strips = [strip(115, f"W{n}", part="drip cap") for n in range(5)]
    stick = Source("stick", 290 * NM_PER_INCH, 1_100, None)

    assert len(laid(strips, stick).rolls) == 3
    found = spliced(strips, stick)
    assert len(found.rolls) == 2
    assert sum(1 for each in found.rolls for cut in each.strips if cut.number) == 2


def test_a_pan_is_never_spliced() -> None:
    found = spliced([strip(700, "W7", part="pan")], roll(50, 3_000))

    assert found.rolls == ()
    assert found.problems[0].problem.startswith("The pan of W7 is 58'-4\" long")
    # a pan and a strip of one length and house are told apart: the strip is spliced, the pan is not
    strips = [strip(115, f"W{n}", part="pan") for n in range(4)] + [strip(115, "W9", part="head strip")]
    stick = Source("stick", 290 * NM_PER_INCH, 1_100, None)
    halves = [cut for each in spliced(strips, stick).rolls for cut in each.strips if cut.number]
    assert {half.part for half in halves} == {"head strip"}


def test_the_other_half_of_a_splice_is_as_long_as_what_is_missing_with_the_lap() -> None:
    first, second = strip(115).spliced([60 * NM_PER_INCH, 59 * NM_PER_INCH], lap=LAP)

    assert first.other() == second
    assert second.other() == first
    assert not first.may_splice


@settings(max_examples=50, deadline=None)
@given(st.lists(st.integers(10, 590), min_size=1, max_size=12))
def test_spliced_or_not_every_strip_comes_out_whole(lengths) -> None:
    strips = [strip(inches, f"W{n}") for n, inches in enumerate(lengths)]

    found = spliced(strips, roll(50, 4_000))

    got: Counter[tuple[str, int]] = Counter()
    for cut in (cut for each in found.rolls for cut in each.strips):
        whole = cut.whole or cut.length
        got[cut.opening.mark, whole] += cut.length - (cut.lap if cut.number == 2 else 0)
    assert got == Counter({(one.opening.mark, one.length): one.length for one in strips})
    assert len(found.rolls) <= len(laid(strips, roll(50, 4_000)).rolls)


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.tuples(st.integers(10, 590), st.sampled_from(["LOT-1", "LOT-2"])), min_size=1, max_size=15),
    st.lists(st.integers(20, 400), max_size=3),
    st.integers(0, 3),
)
def test_every_strip_is_cut_once_and_nothing_is_cut_that_is_not_there(lengths, offcuts, rolls_here) -> None:
    strips = [strip(inches, f"W{n}", house) for n, (inches, house) in enumerate(lengths)]
    pieces = [Source(f"offcut {n}", inches * NM_PER_INCH, is_offcut=True) for n, inches in enumerate(offcuts)]

    found = laid(strips, roll(50, 4_000, rolls_here), roll(50, 4_000), *pieces)

    assert Counter(cut for each in found.rolls for cut in each.strips) == Counter(strips)
    assert all(each.left >= 0 for each in found.rolls)
    used = Counter(each.source.name for each in found.rolls)
    assert used["50 ft here"] <= rolls_here
    assert all(used[piece.name] <= 1 for piece in pieces)
