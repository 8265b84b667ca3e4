from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from openings.drawing.elevation import draw_elevation, draw_house, list_openings
from openings.drawing.placing import STATES, DrawnElevation, DrawnOpening, place
from openings.drawing.shapes import OUTLINE, Path, Rect
from openings.drawing.states import draw_state
from projects.errors import BadValue
from tests.openings.drawing.sheets import inches, outside, overlapping, texts


def opening(mark, width, height, *, offset=None, sill=None, state="waiting"):
    """Return an opening by its RO in inches; the unit is half an inch smaller."""
    return DrawnOpening(
        mark=mark,
        ro_width=inches(width),
        ro_height=inches(height),
        unit_width=inches(width) - inches("0.5"),
        unit_height=inches(height) - inches("0.5"),
        offset=None if offset is None else inches(offset),
        sill_height=None if sill is None else inches(sill),
        state=state,
    )


FRONT = DrawnElevation(
    "Front",
    (
        opening("W1", 36, 60, offset=48, sill=36),
        opening("W2", 72, 60, offset=120, sill=36, state="set"),
        opening("2N-01", 36, 48, offset=60, sill=144, state="checked"),
    ),
    inches(300),
)
RIGHT = DrawnElevation("Right", (opening("W3", 36, 60), opening("W4", 36, 60), opening("W5", 24, 36)))
EMPTY = DrawnElevation("Left", ())


def holes(drawing):
    """Return the rough openings drawn, left to right, without those of the key at the foot."""
    rects = [s for s in drawing.shapes if isinstance(s, Rect) and s.pen is OUTLINE]
    return sorted((r for r in rects if r.width >= 24 and r.height >= 36), key=lambda r: (r.x, r.y))


def test_measured_openings_stand_where_the_schedule_says():
    placed = place(FRONT)

    assert [(each.left, each.sill, each.head) for each in placed.placed] == [
        (48, 36, 96), (120, 36, 96), (60, 144, 192),
    ]  # fmt: skip
    assert placed.length == 300
    assert placed.notes == ()


def test_openings_without_an_offset_are_evenly_spaced_and_it_is_said():
    placed = place(RIGHT)

    # 36 + 36 + 24 and four spaces of 36: 240 long
    assert placed.length == 240
    assert [each.left for each in placed.placed] == [36, 108, 180]
    assert placed.notes == (
        "Right: no offset given for W3, W4, W5; drawn evenly spaced.",
        "Right: no height given for W3, W4, W5; drawn with the head 8'-0\" up.",
    )
    assert {each.head for each in placed.placed} == {96}


def test_loose_openings_share_what_the_measured_ones_leave():
    face = DrawnElevation(
        "Back", (opening("A", 40, 60, sill=30), opening("B", 60, 60, offset=40, sill=30)), inches(240)
    )

    placed = place(face)

    # from 100 to 240 there are 140 for 40: two spaces of 50
    assert {each.opening.mark: each.left for each in placed.placed} == {"A": 150, "B": 40}


def test_each_storey_is_spaced_by_itself():
    face = DrawnElevation("Back", (opening("G1", 40, 60, sill=30), opening("U1", 40, 60, sill=140)))

    placed = place(face)

    # each alone on a wall of 120: 40 from both ends
    assert [(each.left, each.level) for each in placed.placed] == [(40, 0), (40, 1)]


def test_a_wall_too_short_for_its_openings_is_drawn_longer():
    face = DrawnElevation("Back", (opening("A", 60, 60, sill=30), opening("B", 60, 60, sill=30)), inches(100))

    # 120 of openings and three gaps of 6
    assert place(face).length == 138


def test_many_loose_openings_are_counted_not_listed():
    face = DrawnElevation("Back", tuple(opening(f"W{n}", 36, 60, sill=30) for n in range(7)))

    assert place(face).notes == ("Back: no offset given for 7 openings; drawn evenly spaced.",)


def test_openings_are_drawn_true_to_scale_above_grade():
    drawing = draw_elevation(FRONT)
    first, upper, wide = holes(drawing)

    # an inch is a unit: W1 36 wide, the upper one 12 to its right, W2 72 from it; sills 108 apart
    assert (first.width, first.height, upper.width, upper.height, wide.width) == (36, 60, 36, 48, 72)
    assert upper.x - first.x == pytest.approx(12)
    assert wide.x - first.x == pytest.approx(72)
    assert (first.y + first.height) - (upper.y + upper.height) == pytest.approx(108)


def test_a_house_has_its_elevations_in_walking_order_on_one_grade_line():
    drawing = draw_house("Lot 7", [FRONT, RIGHT, EMPTY])

    grades = [s.strokes[0] for s in drawing.shapes if isinstance(s, Path) and s.pen.name == "heavy"]
    lines = [stroke for stroke in grades if stroke[0][1] == stroke[1][1] and len(stroke) == 2]
    assert len({start[1] for start, _ in lines}) == 1
    # one scale: each grade line is as long as its wall and 6 either side
    assert [round(end[0] - start[0], 6) for start, end in lines] == [312, 252, 132]
    assert [start[0] for start, _ in lines] == sorted(start[0] for start, _ in lines)
    names = [text for text in texts(drawing) if "opening" in text and "," in text]
    assert names == ["Front, 3 openings", "Right, 3 openings", "Left, 0 openings"]
    assert "no openings" in texts(drawing)


def test_dimensions_stand_where_a_carpenter_writes_them():
    written = texts(draw_elevation(FRONT))

    # ground floor: 48, RO 36, 36 between, RO 72, 108 to the end; upper floor: 60, RO 36, 204
    chain = ["4'-0\"", "3'-0\"", "3'-0\"", "6'-0\"", "9'-0\"", "5'-0\"", "3'-0\"", "17'-0\""]
    # heights: sills and heads at 36, 96, 144, 192
    pole = ["16'-0\"", "12'-0\"", "8'-0\"", "3'-0\""]
    assert [text for text in written if "'-" in text] == pole + chain


def test_no_dimension_is_written_for_what_the_schedule_does_not_give():
    assert [text for text in texts(draw_elevation(RIGHT)) if "'-" in text] == []


def test_every_mark_is_on_the_sheet_and_in_the_list():
    drawing = draw_house("Lot 7", [FRONT, RIGHT])
    rows = list_openings([FRONT, RIGHT])

    marks = ["W1", "W2", "2N-01", "W3", "W4", "W5"]
    assert [row.opening.mark for row in rows] == marks
    assert [row.elevation for row in rows] == ["Front"] * 3 + ["Right"] * 3
    assert [text for text in texts(drawing) if text in marks] == marks
    assert rows[0].opening.head_height == inches(96)
    assert rows[3].opening.head_height is None


def test_only_the_states_that_occur_are_explained():
    written = texts(draw_elevation(FRONT))

    assert [text for text in written if text in STATES] == ["waiting", "set", "checked"]


def test_each_state_is_drawn_differently_without_colour():
    drawings = {
        state: [
            (type(shape).__name__, shape.points(), shape.pen.width, shape.pen.dash)
            for shape in draw_state(state, x=0, y=0, width=36, height=60, inset=0.25)
        ]
        for state in STATES
    }

    assert all(drawings[one] != drawings[other] for one, other in combinations(STATES, 2))


def test_an_unknown_state_is_refused_with_the_known_ones():
    with pytest.raises(BadValue, match="W1: 'done' is no state of an opening") as refused:
        opening("W1", 36, 60, state="done")

    assert refused.value.remedy.endswith("waiting, prepared, set, sealed, curing, closed, checked.")


def test_a_long_mark_stands_above_its_opening_or_is_cut_short():
    alone = DrawnElevation("Front", (opening("Clerestory-1", 36, 36, offset=100, sill=60),), inches(300))
    tight = DrawnElevation(
        "Front",
        (
            opening("Clerestory-1", 36, 36, offset=12, sill=60),
            opening("Clerestory-2", 36, 36, offset=60, sill=60),
        ),
    )

    assert "Clerestory-1" in texts(draw_elevation(alone))
    # on a wall of 132 letters are 16, small ones 12.8 and 8.7 wide; to the middle of the gap there are 24 on
    # either side of the opening's middle, less 4 in all: 44, so four letters and the dots
    assert [text for text in texts(draw_elevation(tight)) if text.endswith("…")] == ["Cler…", "Cler…"]


def test_an_empty_house_is_an_empty_sheet():
    drawing = draw_house("Lot 7", [])

    assert outside(drawing) == []
    assert "none yet" in drawing.description


@st.composite
def elevations(draw):
    """Draw a wall of openings that stand apart, some measured, some not, on one or two storeys."""
    openings, left = [], 0
    measured = draw(st.booleans())
    for number in range(draw(st.integers(0, 8))):
        left += draw(st.integers(12, 60))
        width, height = draw(st.integers(12, 96)), draw(st.integers(12, 72))
        sill = draw(st.sampled_from([None, 12, 36, 150]))
        mark = draw(st.sampled_from(["W", "2N-", "Bedroom "])) + str(number)
        state = draw(st.sampled_from(STATES))
        offset = left if measured else None
        openings.append(opening(mark, width, height, offset=offset, sill=sill, state=state))
        left += width
    return DrawnElevation(draw(st.sampled_from(["Front", "North-east", "x" * 60])), tuple(openings))


@settings(max_examples=80, deadline=None)
@given(st.lists(elevations(), max_size=3))
def test_a_house_stays_inside_the_view_box_and_no_words_overlap(faces):
    drawing = draw_house("Lot 7", faces)

    assert outside(drawing) == []
    assert overlapping(drawing) == []


@settings(max_examples=80, deadline=None)
@given(elevations())
def test_an_elevation_stays_inside_the_view_box_and_no_words_overlap(face):
    drawing = draw_elevation(face)

    assert outside(drawing) == []
    assert overlapping(drawing) == []
