"""The day strip: a line per pair of hands, every step where its time is, waits and gates told."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from crews.dayplan.sheet import Sheet, SheetStep, SheetVisit, ShutGate, sheet_as_json, sheet_from_json
from crews.dayplan.strip import LANE, LEFT, MINUTE, Labelled, blocks_of, draw_strip, rows_of
from openings.drawing.shapes import Rect, Text


def step(code, start, end, *hands, **more):
    return SheetStep(code=code, label=code, start=start, end=end, hands=hands, **more)


def visit(mark, *steps):
    return SheetVisit(
        opening=1,
        house="LOT-1",
        elevation="Front",
        mark=mark,
        is_covered=False,
        method="B1",
        width_nm=914_400_000,
        height_nm=1_524_000_000,
        weight="",
        steps=steps,
        screws=(),
        holds=(),
        cautions=(),
        notes=(),
        later=(),
    )


def sheet(*visits, gates=(), people=("Ann Low", "Bo High")):
    """A day from 7:00 to 15:30, worked from 8:15, lunch at noon."""
    return Sheet(
        crew="RED",
        crew_name="Red truck",
        day="2026-06-08",
        start=420,
        end=930,
        set_up_until=495,
        clean_up_from=900,
        breaks=((720, 750),),
        people=people,
        places=("LOT-1 Front",),
        weather=(),
        visits=visits,
        load=(),
        par_list=(),
        cautions=(),
        gates=gates,
        left_over=(),
        notices=(),
        made_from=(),
    )


def words(drawing):
    return [shape.text for shape in drawing.shapes if isinstance(shape, Text)]


def test_steps_without_a_pause_are_one_block_of_their_opening():
    day = sheet(
        visit("W1", step("check", 500, 504, 1), step("pan", 504, 511, 1), step("set", 520, 528, 1, 2)),
        visit("W2", step("check", 511, 515, 1)),
    )

    assert [(block.mark, block.start, block.end) for block in blocks_of(day, 1)] == [
        ("W1", 500, 511),
        ("W2", 511, 515),
        ("W1", 520, 528),
    ]
    assert [(block.mark, len(block.steps)) for block in blocks_of(day, 2)] == [("W1", 1)]


def test_a_block_stands_where_its_minutes_are():
    day = sheet(visit("W1", step("check", 500, 504, 1), step("pan", 504, 511, 1)))

    drawing = draw_strip(day)

    # the first panel begins at 8:15, minute 495: the block 5 minutes behind, 11 minutes wide
    block = next(s for s in drawing.shapes if isinstance(s, Rect) and s.height == LANE - 6)
    assert (block.x, block.width) == (LEFT + 5 * MINUTE, 11 * MINUTE)
    assert "W1" in words(drawing)
    assert "check" in words(drawing)


def test_every_pair_of_hands_has_its_line():
    drawing = draw_strip(sheet(visit("W1", step("check", 500, 504, 1))))

    assert words(drawing).count("Ann") == words(drawing).count("Bo") >= 1


def test_the_day_is_cut_at_its_break():
    drawing = draw_strip(sheet(visit("W1", step("check", 500, 504, 1))))

    # 8:15 to 12:00 are 225 minutes, two panels; 12:30 to 15:00 the third
    starts = [text for text in words(drawing) if text in {"8:15", "10:07", "12:30"}]
    assert starts == ["8:15", "10:07", "12:30"]


def test_a_wait_is_an_open_span_with_reason_and_end():
    flap = step("flap", 606, 610, 1, wait_from=546, wait_until=606, waits_for="face bead")

    drawing = draw_strip(sheet(visit("W1", step("face-bead", 537, 546, 1), flap)))

    assert "W1 face bead: flap from 10:06" in words(drawing)


def test_a_shut_gate_lies_above_with_its_reason():
    gate = ShutGate(495, 600, "face bead", "36 °F is outside the sealant's 40 to 90 °F.")

    drawing = draw_strip(sheet(visit("W1", step("check", 500, 504, 1)), gates=(gate,)))

    told = next(s for s in drawing.shapes if isinstance(s, Text) and s.text.startswith("face bead: 36 °F"))
    first_lane = next(s for s in drawing.shapes if isinstance(s, Text) and s.text == "Ann")
    assert told.y < first_lane.y


def test_free_hands_are_an_open_span_to_the_minute():
    drawing = draw_strip(sheet(visit("W1", step("check", 500, 504, 1), step("pan", 590, 600, 1))))

    assert "free to 9:50" in words(drawing)


def test_nothing_stands_outside_the_drawing():
    long = sheet(
        visit(
            "Kitchen window over the sink, left",
            *(step("over-fin-strips", m, m + 3, 1) for m in range(500, 700, 4)),
        ),
        people=("Bartholomew Featherstonehaugh", "Bo"),
    )  # fmt: skip

    drawing = draw_strip(long)

    for shape in drawing.shapes:
        for x, y in shape.points():
            assert -1 <= x <= drawing.width + 1, shape
            assert -1 <= y <= drawing.height + 1, shape


@given(st.lists(st.tuples(st.integers(0, 300), st.integers(1, 60), st.text(max_size=30)), max_size=12))
def test_spans_of_one_row_never_touch_each_others_words(spans):
    rows = rows_of([Labelled(start, start + length, told) for start, length, told in spans])

    assert sum(len(row) for row in rows) == len(spans)
    for row in rows:
        for earlier, later in pairwise(row):
            assert earlier.end <= later.start


def test_a_sheet_reads_back_as_it_was_kept():
    import json

    day = sheet(
        visit("W1", step("check", 500, 504, 1, notes=("Heavy unit: 3 people.",))),
        gates=(ShutGate(1, 2, "pan", "Rain."),),
    )

    assert sheet_from_json(json.loads(json.dumps(sheet_as_json(day)))) == day
