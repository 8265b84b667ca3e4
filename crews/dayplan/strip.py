"""The day strip: a line per pair of hands, time to the right, weather gates above, waits below. Pure.

The day is cut at its breaks into panels, one under the other, so that a step of three minutes can carry its
name on paper. All measures are whole drawing units.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from crews.dayplan.crew_day.day import ClockSpan, clock, cut_out
from crews.dayplan.sheet import Sheet, SheetStep, SheetVisit
from openings.drawing.shapes import (
    FINE,
    HEAVY,
    LINE,
    OUTLINE,
    Drawing,
    Path,
    Pen,
    Rect,
    Shape,
    Text,
    lettered,
    shortened,
    text_width,
)

LONGEST_PANEL = 150  # minutes
MINUTE = 7
LEFT = 96  # where the time begins: room for a name
EDGE = 8
LANE = 140
MARK_LETTERS, STEP_LETTERS, CLOCK_LETTERS, BAND_LETTERS = 18, 14, 17, 16
AXIS = 30
ROW = 24
PANEL_GAP = 26
TICK = 15  # minutes between ticks
SHORTEST_IDLE = 10  # a shorter pause is a walk
OPEN = Pen("beyond", fill="none", width=1, dash="5 4")


@dataclass(frozen=True, slots=True)
class Labelled:
    """A span with its words, before it has a row."""

    start: int
    end: int
    words: str


@dataclass(frozen=True, slots=True)
class Block:
    """Steps that one pair of hands does at one opening without a pause."""

    mark: str
    steps: tuple[SheetStep, ...]

    @property
    def start(self) -> int:
        """Return when the first step starts."""
        return self.steps[0].start

    @property
    def end(self) -> int:
        """Return when the last step ends."""
        return self.steps[-1].end


def draw_strip(sheet: Sheet) -> Drawing:
    """Return the day's strip: panels in the order of time."""
    panels = _panels(sheet)
    longest = max(panel.end - panel.start for panel in panels)
    shapes: list[Shape] = []
    top = EDGE
    for panel in panels:
        drawn, bottom = _draw_panel(sheet, panel, top)
        shapes += drawn
        top = bottom + PANEL_GAP
    return Drawing(
        width=LEFT + longest * MINUTE + EDGE,
        height=top - PANEL_GAP + EDGE,
        title=f"Day strip of {sheet.crew_name}, {sheet.day}",
        description=_description(sheet),
        shapes=tuple(shapes),
    )


def blocks_of(sheet: Sheet, hand: int) -> tuple[Block, ...]:
    """Return what a pair of hands does, in order of time."""
    mine = sorted(
        ((visit, step) for visit in sheet.visits for step in visit.steps if hand in step.hands),
        key=lambda pair: (pair[1].start, pair[1].end),
    )
    blocks: list[Block] = []
    place: SheetVisit | None = None
    for visit, step in mine:
        if blocks and place is visit and blocks[-1].end == step.start:
            blocks[-1] = Block(blocks[-1].mark, (*blocks[-1].steps, step))
        else:
            blocks.append(Block(visit.mark, (step,)))
        place = visit
    return tuple(blocks)


def rows_of(spans: Sequence[Labelled]) -> list[list[Labelled]]:
    """Return the spans in as few rows as keep them apart, words included."""
    rows: list[list[Labelled]] = []
    for span in sorted(spans, key=lambda each: (each.start, each.end)):
        row = next((row for row in rows if _reach(row[-1]) <= span.start), None)
        if row is None:
            rows.append([span])
        else:
            row.append(span)
    return rows


def _reach(span: Labelled) -> int:
    """Return the minute up to which the span or its words take room."""
    words = int(text_width(span.words, BAND_LETTERS)) // MINUTE + 3
    return max(span.end, span.start + words)


def _panels(sheet: Sheet) -> list[ClockSpan]:
    day = ClockSpan(sheet.set_up_until, max(sheet.clean_up_from, sheet.done or 0))
    parts = cut_out([day], [ClockSpan(start, end) for start, end in sheet.breaks])
    return [panel for part in parts for panel in _split(part)]


def _split(part: ClockSpan) -> Iterator[ClockSpan]:
    count = -(-(part.end - part.start) // LONGEST_PANEL)
    cuts = [part.start + (part.end - part.start) * number // count for number in range(count + 1)]
    yield from (ClockSpan(start, end) for start, end in pairwise(cuts))


def _draw_panel(sheet: Sheet, panel: ClockSpan, top: int) -> tuple[list[Shape], int]:
    """Return the panel's shapes and where it ends."""
    gates = rows_of([_inside(each, panel) for each in _gates(sheet) if _meets(each, panel)])
    waits = rows_of([_inside(each, panel) for each in _waits(sheet) if _meets(each, panel)])
    axis = top + ROW * len(gates) + AXIS
    bottom = axis + LANE * len(sheet.people)
    shapes: list[Shape] = []
    for number, row in enumerate(gates):
        shapes += [shape for gate in row for shape in _gate(gate, panel, top + ROW * number)]
    shapes += _axis(panel, axis, bottom)
    for number, name in enumerate(sheet.people):
        lane = axis + LANE * number
        shapes += _lane_name(name, lane)
        shapes += _idle(sheet, number + 1, panel, lane)
        for block in blocks_of(sheet, number + 1):
            if block.start < panel.end and panel.start < block.end:
                shapes += _block(block, panel, lane)
    for number, row in enumerate(waits):
        shapes += [shape for wait in row for shape in _wait(wait, panel, bottom + 6 + ROW * number)]
    return shapes, bottom + (6 + ROW * len(waits) if waits else 0)


def _gates(sheet: Sheet) -> list[Labelled]:
    return [Labelled(gate.start, gate.end, f"{gate.work}: {gate.reason}") for gate in sheet.gates]


def _waits(sheet: Sheet) -> list[Labelled]:
    return [
        Labelled(
            step.wait_from,
            step.wait_until,
            f"{visit.mark} {step.waits_for}: {_said(step.code)} from {clock(step.wait_until)}",
        )
        for visit in sheet.visits
        for step in visit.steps
        if step.wait_from is not None and step.wait_until is not None
    ]


def _said(code: str) -> str:
    return code.replace("-", " ")


def _meets(span: Labelled, panel: ClockSpan) -> bool:
    return span.start < panel.end and panel.start < span.end


def _inside(span: Labelled, panel: ClockSpan) -> Labelled:
    return Labelled(max(span.start, panel.start), min(span.end, panel.end), span.words)


def _x(minute: int, panel: ClockSpan) -> int:
    return LEFT + (minute - panel.start) * MINUTE


def _axis(panel: ClockSpan, axis: int, bottom: int) -> Iterator[Shape]:
    """Yield the clock: a tick each quarter of an hour, its time at each half hour, the panel's own ends."""
    left, right = _x(panel.start, panel), _x(panel.end, panel)
    yield Path((((left, axis), (right, axis)), ((left, bottom), (right, bottom))), HEAVY)
    first = -(-panel.start // TICK) * TICK
    ticks = range(first, panel.end + 1, TICK)
    yield Path(tuple(((_x(tick, panel), axis - 6), (_x(tick, panel), bottom)) for tick in ticks), FINE)
    yield Text(left, axis - 10, clock(panel.start), CLOCK_LETTERS, bold=True)
    for tick in ticks:
        if tick % (2 * TICK) == 0 and tick - panel.start >= TICK:
            anchor = "end" if panel.end - tick < TICK else "middle"
            yield Text(_x(tick, panel), axis - 10, clock(tick), CLOCK_LETTERS, anchor)  # type: ignore[arg-type]


def _lane_name(name: str, lane: int) -> Iterator[Shape]:
    yield Path((((EDGE, lane + LANE), (LEFT, lane + LANE)),), FINE)
    for number, word in enumerate(name.split()[:2]):
        words = shortened(word, size=CLOCK_LETTERS, room=LEFT - EDGE - 4)
        yield Text(EDGE, lane + 24 + 20 * number, words, CLOCK_LETTERS, bold=number == 0)


def _block(block: Block, panel: ClockSpan, lane: int) -> Iterator[Shape]:
    """Yield a block: its mark on top, its steps under it, each with its name turned to read from below."""
    start, end = max(block.start, panel.start), min(block.end, panel.end)
    left, wide = _x(start, panel), (end - start) * MINUTE
    head = lane + MARK_LETTERS + 8
    yield Rect(left, lane + 3, wide, LANE - 6, OUTLINE)
    words = shortened(block.mark, size=MARK_LETTERS, room=wide - 4, bold=True)
    yield Text(left + wide // 2, head - 6, words, MARK_LETTERS, "middle", bold=True)
    yield Path((((left, head), (left + wide, head)),), LINE)
    for step in block.steps:
        if step.start < panel.end and panel.start < step.end:
            yield from _step(step, panel, head=head, foot=lane + LANE - 3)


def _step(step: SheetStep, panel: ClockSpan, *, head: int, foot: int) -> Iterator[Shape]:
    start, end = max(step.start, panel.start), min(step.end, panel.end)
    left, wide = _x(start, panel), (end - start) * MINUTE
    if step.start > panel.start:
        yield Path((((left, head), (left, foot)),), LINE)
    size = min(STEP_LETTERS, wide - 2)
    if size >= STEP_LETTERS // 2:
        words = shortened(_said(step.code), size=size, room=foot - head - 8)
        yield Text(left + wide // 2 + size // 3, foot - 6, words, size, upright=True)


def _idle(sheet: Sheet, hand: int, panel: ClockSpan, lane: int) -> Iterator[Shape]:
    """Yield an open span wherever the hands have nothing to do for longer than a walk takes."""
    busy = [ClockSpan(block.start, block.end) for block in blocks_of(sheet, hand)]
    for gap in cut_out([panel], busy):
        if gap.end - gap.start >= SHORTEST_IDLE:
            left, wide = _x(gap.start, panel) + 3, (gap.end - gap.start) * MINUTE - 6
            yield Rect(left, lane + LANE // 4, wide, LANE // 2, OPEN)
            words = f"free to {clock(gap.end)}"
            if text_width(words, STEP_LETTERS) < wide - 8:
                middle, down = left + wide // 2, lane + LANE // 2 + 5
                yield from lettered(Text(middle, down, words, STEP_LETTERS, "middle"))


def _gate(gate: Labelled, panel: ClockSpan, top: int) -> Iterator[Shape]:
    """Yield a shut gate: a hatched bar with its reason on a blank."""
    left, wide = _x(gate.start, panel), (gate.end - gate.start) * MINUTE
    yield Rect(left, top, wide, ROW - 4, LINE)
    strokes = tuple(((left + step, top + ROW - 4), (left + step + 8, top)) for step in range(2, wide - 9, 8))
    if strokes:
        yield Path(strokes, FINE)
    words = shortened(gate.words, size=BAND_LETTERS, room=max(wide, _room(panel, gate)) - 12)
    yield from lettered(Text(left + 6, top + ROW - 9, words, BAND_LETTERS))


def _wait(wait: Labelled, panel: ClockSpan, top: int) -> Iterator[Shape]:
    """Yield a wait: a span open to the right of its foot, ended by a stroke at the minute it ends."""
    left, right = _x(wait.start, panel), _x(wait.end, panel)
    foot = top + ROW - 4
    yield Path((((left, top + 6), (left, foot), (right, foot), (right, top + 2)),), OPEN)
    words = shortened(wait.words, size=BAND_LETTERS, room=_room(panel, wait) - 10)
    yield from lettered(Text(left + 6, foot - 5, words, BAND_LETTERS))


def _room(panel: ClockSpan, span: Labelled) -> int:
    return (panel.end - span.start) * MINUTE


def _description(sheet: Sheet) -> str:
    told = [f"{name}: {_told(blocks_of(sheet, number))}" for number, name in enumerate(sheet.people, 1)]
    return f"{'. '.join(told)}. Every step is listed below with its time."


def _told(blocks: Sequence[Block]) -> str:
    return ", ".join(f"{block.mark} {clock(block.start)} to {clock(block.end)}" for block in blocks) or "free"
