"""A house's strips lie on few rolls where that costs nothing."""

from __future__ import annotations

import time

from hypothesis import given, settings
from hypothesis import strategies as st

from materials.cutplan.houses import house_by_house
from materials.cutplan.plan import Status
from materials.cutplan.problem import CutProblem, Offcut, Piece, Roll
from materials.cutplan.solve import plan_cuts
from materials.cutplan.verify import verify
from materials.cutplan.whole import Layout, in_whole_numbers

from .building import planned, rolls_of


def houses_on(cut):
    return {name.split()[0] for name in cut.pieces}


def test_strips_of_a_house_share_a_roll():
    # 100 = 60 + 40 of A, and of B 70 + 30: each house has a roll of its own
    problem = CutProblem(
        rolls=(Roll("roll", 100, 1),),
        pieces=(
            Piece("A sill", 60, 1, "A"),
            Piece("A jamb", 40, 1, "A"),
            Piece("B sill", 70, 1, "B"),
            Piece("B jamb", 30, 1, "B"),
        ),
    )

    plan = planned(problem)

    assert plan.cost == 2
    assert sorted(sorted(houses_on(cut)) for cut in plan.cuts) == [["A"], ["B"]]


def test_equal_strips_change_places_to_keep_houses_apart():
    # 2 x 50 to a roll: the two of A together and the two of B together, not one of each
    problem = CutProblem(
        rolls=(Roll("roll", 100, 1),), pieces=(Piece("A jamb", 50, 2, "A"), Piece("B jamb", 50, 2, "B"))
    )

    assert [dict(cut.pieces) for cut in planned(problem).cuts] == [{"A jamb": 2}, {"B jamb": 2}]


def test_houses_that_make_whole_rolls_are_laid_together():
    # rolls of 100: A 70, B 60, C 40, D 30. A and D fill a roll, B and C another. In order of length A would
    # be cut with B, and every roll would hold parts of two houses that go on elsewhere
    lengths = {"A": (40, 30), "B": (35, 25), "C": (22, 18), "D": (17, 13)}
    problem = CutProblem(
        rolls=(Roll("roll", 100, 1),),
        pieces=tuple(
            Piece(f"{house} {length}", length, 1, house) for house, both in lengths.items() for length in both
        ),
    )

    plan = planned(problem)

    assert sorted(sorted(houses_on(cut)) for cut in plan.cuts) == [["A", "D"], ["B", "C"]]


def test_cost_goes_before_houses():
    # A 60 + 60 and B 40 + 40 cut apart take three rolls of 100; 60 + 40 twice take two
    problem = CutProblem(
        rolls=(Roll("roll", 100, 1),), pieces=(Piece("A jamb", 60, 2, "A"), Piece("B jamb", 40, 2, "B"))
    )

    plan = planned(problem)

    assert plan.cost == 2
    assert [houses_on(cut) for cut in plan.cuts] == [{"A", "B"}]


def test_an_offcut_that_holds_nothing_uses_up_no_roll():
    # 10 goes into one offcut of 20, the other stays. Of 600: 390 three times alone, as 390 + 211 = 601 is too
    # long, 211 + 211 together and 211 alone: five rolls, of which only one is had at 4, the others cost 8
    problem = CutProblem(
        rolls=(Roll("here", 600, 4, available=1), Roll("to come", 600, 8)),
        pieces=(
            Piece("A short", 10, 1, "A"),
            Piece("A jamb", 211, 3, "A"),
            Piece("A sill", 390, 2, "A"),
            Piece("B sill", 390, 1, "B"),
        ),
        offcuts=(Offcut("one", 20), Offcut("other", 20)),
        usable_offcut=36,
    )

    plan = planned(problem)

    assert (plan.status, plan.cost, plan.bound) == (Status.OPTIMAL, 36, 36)
    assert sum(cut.times for cut in plan.cuts if cut.roll == "here") == 1


def test_rolls_of_one_length_are_told_apart():
    # A fills three rolls of 600 alike, B takes a fourth: 4 + 8 + 8 + 8, for one roll alone costs 4
    problem = CutProblem(
        rolls=(Roll("here", 600, 4, available=1), Roll("to come", 600, 8)),
        pieces=(Piece("A sill", 300, 6, "A"), Piece("B sill", 100, 1, "B")),
    )

    plan = planned(problem)

    assert (plan.cost, plan.bound) == (28, 28)
    assert sum(cut.times for cut in plan.cuts if cut.roll == "here") == 1


LENGTHS = st.tuples(st.integers(1, 590), st.integers(1, 4), st.sampled_from("AB"))


@settings(max_examples=60, deadline=None)
@given(
    st.lists(LENGTHS, min_size=1, max_size=8),
    st.lists(st.integers(5, 400), max_size=4),
    st.integers(0, 3),
)
def test_what_is_there_is_used_no_oftener_than_it_is_there(lengths, offcuts, here):
    problem = CutProblem(
        rolls=(Roll("here", 600, 4, available=here), Roll("to come", 600, 8)),
        pieces=tuple(
            Piece(f"{house} {number}", length, count, house)
            for number, (length, count, house) in enumerate(lengths)
        ),
        offcuts=tuple(Offcut(f"offcut {number}", length) for number, length in enumerate(offcuts)),
        usable_offcut=36,
    )

    plan = plan_cuts(problem, seconds=5, clock=time.monotonic)

    assert verify(problem, plan) == ()


def test_houses_of_an_order_lie_on_hardly_more_rolls_than_they_need():
    # ten houses of 25 openings with 6 strips each: a house has more than seven rolls of 1,200
    problem = CutProblem(
        rolls=(Roll("100 ft", 1200, 53),),
        pieces=tuple(
            Piece(
                f"{house} {strip} {opening}", 30 + (7 * house + 11 * opening + 13 * strip) % 60, 1, str(house)
            )
            for house in range(10)
            for opening in range(25)
            for strip in range(6)
        ),
    )
    least = {
        str(house): -(-sum(piece.length for piece in problem.pieces if piece.house == str(house)) // 1200)
        for house in range(10)
    }

    plan = planned(problem)

    met = sum(cut.times * len(houses_on(cut)) for cut in plan.cuts)
    assert plan.cost == plan.bound
    assert met <= 1.2 * sum(least.values())


@settings(max_examples=50, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(10, 60), st.integers(1, 6), st.sampled_from("ABCDE")), min_size=2, max_size=12
    )
)
def test_rolls_filled_house_by_house_hold_each_strip_once(pieces):
    problem = CutProblem(
        rolls=(Roll("short", 80, 9), Roll("long", 120, 13)),
        pieces=tuple(Piece(f"{house} {i}", n, k, house) for i, (n, k, house) in enumerate(pieces)),
    )
    whole = in_whole_numbers(problem)

    for layouts in house_by_house(whole):
        assert cut_in(layouts, whole) == list(whole.counts)
        assert all(whole.filled(it.pattern) <= whole.stocks[it.stock].room for it in layouts)
    assert planned(problem).cost >= 0


def cut_in(layouts: list[Layout], whole):
    counts = [0] * len(whole.counts)
    for layout in layouts:
        for index, taken in layout.pattern:
            counts[index] += taken * layout.times
    return counts


def test_named_houses_never_cost_more_than_none():
    apart = rolls_of(900, (77, 20), (54, 20))
    named = CutProblem(
        rolls=apart.rolls,
        pieces=tuple(
            Piece(f"{house} {piece.name}", piece.length, piece.count // 4, house)
            for house in "ABCD"
            for piece in apart.pieces
        ),
    )

    assert planned(named).cost == planned(apart).cost == 3
