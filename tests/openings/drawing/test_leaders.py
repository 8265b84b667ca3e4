from __future__ import annotations

from itertools import combinations, pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from openings.drawing.leaders import Row, Target, draw_leaders, spread
from openings.drawing.shapes import Path

PLACES = st.lists(st.floats(0, 200), min_size=1, max_size=9)


def crosses(one, other):
    """Return whether two leaders cross, by which side of each the other's ends lie."""

    def side(start, end, point):
        return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])

    (a, b), (c, d) = one, other
    return side(a, b, c) * side(a, b, d) < -1e-6 and side(c, d, a) * side(c, d, b) < -1e-6


def test_numbers_that_are_far_apart_stay_where_they_are():
    assert spread([10, 50, 90], pitch=20, low=0, high=200) == (10, 50, 90)


def test_close_numbers_are_pushed_apart_and_back_into_the_row():
    # 10 -> 10, 12 -> 30, 14 -> 50; at the end 95 and 96 in a row to 100: 100 and 80
    assert spread([10, 12, 14], pitch=20, low=0, high=200) == (10, 30, 50)
    assert spread([95, 96], pitch=20, low=0, high=100) == (80, 100)


@settings(deadline=None)
@given(PLACES)
def test_spread_numbers_keep_their_order_and_distance(places):
    spaced = spread(sorted(places), pitch=20, low=0, high=200)

    assert all(right - left >= 20 - 1e-9 for left, right in pairwise(spaced))
    assert spaced[0] >= 0
    assert spaced[-1] <= 200 + 1e-9


@settings(deadline=None)
@given(st.lists(st.tuples(st.floats(40, 160), st.floats(0, 200)), min_size=2, max_size=9, unique=True))
def test_leaders_never_cross(points):
    targets = [Target(number, point, "left") for number, point in enumerate(points, 1)]

    shapes = draw_leaders(targets, [Row("left", 14, 0, 220)])

    lines = [shape.strokes[0] for shape in shapes if isinstance(shape, Path)]
    assert len(lines) == len(points)
    assert not any(crosses(one, other) for one, other in combinations(lines, 2))
