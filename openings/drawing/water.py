"""Which way water runs over the layers of one face, and where a reversed lap leads it behind. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from openings.drawing.panel import DAM_DEPTH, LIP, OPENING, PER_INCH, Panel, nose_out
from openings.drawing.shapes import (
    LEAK,
    LEAK_LINE,
    LEAK_MARK,
    LEAK_TEXT,
    WATER,
    Path,
    Point,
    Shape,
    Text,
    lettered,
)
from openings.drawing.stack import Slab, height_at, skyline_of
from openings.methods.method import Lap

FILM = 4.0  # how far off the face the line is drawn
MARK = 9.0
CLEAR = 0.9  # inches that a broken line stops short of its mark
Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Break:
    """A reversed lap on a face: `under` lies over from `start` to `end`, and water gets behind it."""

    lap: Lap
    under: Slab
    start: float
    end: float

    def entry(self, panel: Panel) -> float:
        """Return the place where water coming down gets in."""
        return self.start if panel.face == "sill" else self.end


def breaks_on(slabs: Sequence[Slab], reversed_laps: Sequence[Lap]) -> tuple[Break, ...]:
    """Return the reversed laps that this face shows."""
    pairs = (
        (lap, over, under)
        for lap in reversed_laps
        for over in slabs
        for under in slabs
        if (over.piece.name, under.piece.name) == (lap.over, lap.under)
    )
    spans = (
        (lap, under, max(over.start, under.start), min(over.end, under.end)) for lap, over, under in pairs
    )
    return tuple(Break(lap, under, start, end) for lap, under, start, end in spans if start < end)


def draw_water(panel: Panel, slabs: Sequence[Slab], breaks: Sequence[Break]) -> list[Shape]:
    """Return the dotted line of the water, broken and marked where a reversed lap leads it behind."""
    way = _outside(panel, [slab for slab in slabs if not slab.beyond])
    if breaks and way:
        entry = _first(panel, breaks).entry(panel)
        way = _until(way, entry - CLEAR if panel.face == "sill" else entry + CLEAR)
    shapes: list[Shape] = [Path((panel.path(*way),), WATER)] if len(way) > 1 else []
    shapes += _from_pan(panel, slabs, breaks)
    for under in {each.under.depth: each for each in breaks}.values():
        shapes.append(Path((panel.path(*_behind(panel, under)),), LEAK_LINE))
    for place, leaks in _entries(panel, breaks).items():
        out = max(each.under.outer_at(place) for each in leaks)
        shapes += draw_mark(panel.at(place, out + FILM), leaks=len(leaks))
    return shapes


def draw_mark(point: Point, *, leaks: int = 1) -> list[Shape]:
    """Return the mark of leaks at `point`: a triangle with a bar and a dot, and the word."""
    x, y = point
    word = "leak" if leaks == 1 else f"{leaks} leaks"
    triangle = ((x, y - MARK), (x + MARK, y + 7), (x - MARK, y + 7))
    return [
        Path((triangle,), LEAK_MARK, closed=True),
        Path((((x, y - 3), (x, y + 1.5)), ((x, y + 4), (x, y + 4.8))), LEAK),
        *lettered(Text(x - MARK - 3, y + 6, word, 13, anchor="end", bold=True, pen=LEAK_TEXT)),
    ]


def _outside(panel: Panel, slabs: Sequence[Slab]) -> tuple[Spot, ...]:
    """Return the way of the water over the outermost faces, from above down."""
    if not slabs:
        return ()
    film = [(place, height + FILM) for place, height in skyline_of(slabs) if place >= 0]
    fin = next((slab for slab in slabs if slab.piece.kind == "unit"), None)
    cap = next((slab for slab in slabs if slab.piece.kind == "cap"), None)
    start: list[Spot] = []
    if cap is not None:
        lip = cap.outer_at(cap.start) + LIP + FILM
        start = [(-OPENING, lip), (cap.start, lip), (cap.start + 0.4, cap.outer_at(cap.start) + FILM)]
    elif fin is not None:
        nose = nose_out(fin) + FILM
        start = [(-OPENING, nose), (fin.start + 0.2, nose), (fin.start + 0.9, fin.outer_at(fin.end) + FILM)]
    way = start + [spot for spot in film if not start or spot[0] > start[-1][0]]
    return tuple(way if panel.face == "sill" else reversed(way))


def _entries(panel: Panel, breaks: Sequence[Break]) -> dict[float, list[Break]]:
    """Return the breaks by the place where water gets in; places too close for two marks share one."""
    entries: dict[float, list[Break]] = {}
    for each in sorted(breaks, key=lambda one: one.entry(panel)):
        place = each.entry(panel)
        near = next((known for known in entries if abs(known - place) * PER_INCH < 2 * MARK), place)
        entries.setdefault(near, []).append(each)
    return entries


def _first(panel: Panel, breaks: Sequence[Break]) -> Break:
    choose = min if panel.face == "sill" else max
    return choose(breaks, key=lambda each: each.entry(panel))


def _until(way: Sequence[Spot], place: float) -> tuple[Spot, ...]:
    """Return the part of the way that comes before `place`."""
    rising = way[-1][0] > way[0][0]
    kept = [spot for spot in way if (spot[0] < place) == rising and spot[0] != place]
    knots = tuple(sorted(way))
    return (*kept, (place, height_at(knots, place)))


def _behind(panel: Panel, each: Break) -> tuple[Spot, ...]:
    """Return the way of the water behind the piece that should lie under."""
    under = each.under
    knots = [spot for spot in under.inner if each.start <= spot[0] or panel.face != "sill"]
    if panel.face == "sill":
        return ((each.start, under.inner_at(each.start)), *knots)
    return ((each.end, under.inner_at(each.end)), *(s for s in reversed(knots) if s[0] < each.end))


def _from_pan(panel: Panel, slabs: Sequence[Slab], breaks: Sequence[Break]) -> list[Shape]:
    """Return the way of the water out of the pan through a weep gap, stopped where the fin is covered."""
    pan = next((slab for slab in slabs if slab.turns_in), None)
    fin = next((slab for slab in slabs if slab.piece.kind == "unit"), None)
    if pan is None or fin is None:
        return []
    thick = pan.outer_at(pan.start) - pan.inner_at(pan.start)
    on_pan, face = -(thick + FILM) / PER_INCH, pan.outer_at(pan.start) + FILM
    inside = -(panel.wall - DAM_DEPTH) + thick + FILM
    way = [(on_pan, inside), (on_pan, face)]
    covered = any(slab.piece.kind == "cover" for slab in slabs)
    if covered or any(each.lap.over == pan.piece.name for each in breaks):
        shapes: list[Shape] = [Path((panel.path(*way, (0.6, face)),), WATER)]
        return shapes + (draw_mark(panel.at(fin.end, fin.outer_at(fin.end) + 14)) if covered else [])
    return [Path((panel.path(*way, (fin.end + 0.4, face)),), WATER)]
