"""One face of the section on the sheet: where its places fall, its wall and its layers. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from openings.drawing.hatch import hatch
from openings.drawing.shapes import (
    BEYOND,
    FINE,
    LINE,
    OUTLINE,
    SOLID,
    TIMBER,
    Path,
    Point,
    Shape,
)
from openings.drawing.stack import Slab
from openings.methods.method import Face

PER_INCH = 14.0
OPENING = 5.4  # inches of the opening shown beside the wall
SHEATHING = 8.0
GAP = 1.8  # inches between unit and rough opening, as drawn
FRAME = 2.0  # inches of frame seen in the cut
NOSE = 12.0  # how far the frame stands out beyond its fin
LIP = 16.0  # how far a drip cap throws water out
DAM_DEPTH = 10.0
DAM = 0.75


@dataclass(frozen=True, slots=True)
class Panel:
    """A face with its origin: the corner of the rough opening on the sheathing's outer side.

    `reach` is how far the wall is shown, in inches; `wall` its depth in drawing units.
    """

    face: Face
    x: float
    y: float
    reach: float
    wall: float

    def at(self, place: float, out: float) -> Point:
        """Return the point `place` inches along the wall and `out` units outboard of the sheathing."""
        along = place * PER_INCH
        if self.face == "jamb":
            return (self.x + along, self.y + out)
        return (self.x - out, self.y + along if self.face == "sill" else self.y - along)

    def path(self, *spots: tuple[float, float]) -> tuple[Point, ...]:
        """Return points for pairs of (place, out)."""
        return tuple(self.at(place, out) for place, out in spots)


def draw_wall(panel: Panel) -> list[Shape]:
    """Return sheathing and framing: lumber cut across is crossed, as on any framing plan."""
    back, end = -panel.wall, panel.reach
    deep = {"sill": 1.5, "head": 5.5, "jamb": 1.5}[panel.face]
    shapes: list[Shape] = [
        Path((panel.path((0, -SHEATHING), (0, 0), (end, 0), (end, -SHEATHING)),), TIMBER, closed=True),
        Path(tuple(_sheathing(panel)), FINE),
    ]
    shapes += _lumber(panel, 0, deep)
    if panel.face == "jamb":
        shapes += _lumber(panel, deep, 2 * deep)
        shapes.append(Path((panel.path((2 * deep, back), (end, back)),), LINE))
    else:
        shapes.append(Path((panel.path((deep, back), (end, back)),), LINE))
    return shapes


def draw_slab(panel: Panel, slab: Slab) -> list[Shape]:
    """Return a layer: its outline, dashed where it lies beyond the cut, and its hatch."""
    if slab.piece.kind == "fasteners":
        return _screw(panel, slab)
    if slab.piece.kind == "unit":
        return _unit(panel, slab)
    edge = _outline(panel, slab)
    if slab.beyond:
        return [Path((edge,), BEYOND, closed=True)]
    if slab.piece.hatch == "solid":
        return [Path((edge,), SOLID, closed=True)]
    strokes = hatch(
        slab.piece.hatch,
        lambda along, through: _within(panel, slab, slab.start + along / PER_INCH, through),
        length=(slab.end - slab.start) * PER_INCH,
    )
    if slab.turns_in:
        strokes += hatch(
            slab.piece.hatch,
            lambda along, through: panel.at(-through * _thick(slab) / PER_INCH, -along),
            length=panel.wall - DAM_DEPTH,
        )
    shapes: list[Shape] = [Path((edge,), OUTLINE, closed=True)]
    if strokes:
        shapes.append(Path(strokes, FINE))
    return shapes


def draw_seal(panel: Panel, *, on_pan: float) -> list[Shape]:
    """Return the inside seal in the gap round the unit; `on_pan` is what it stands on at the sill."""
    deep = 12.0 if panel.face == "sill" else 20.0
    back = -(panel.wall - DAM_DEPTH - 1)
    low = -on_pan / PER_INCH
    box = panel.path((low, back), (-GAP, back), (-GAP, back + deep), (low, back + deep))
    strokes = hatch(
        "cells",
        lambda along, through: panel.at(low - through * (GAP + low), back + along),
        length=deep,
    )
    return [Path((box,), OUTLINE, closed=True), Path(strokes, FINE)]


def draw_dam(panel: Panel) -> list[Shape]:
    """Return the back dam on the rough sill, which the pan climbs."""
    inner, outer = -panel.wall, -(panel.wall - DAM_DEPTH)
    corners = panel.path((0, inner), (-DAM, inner), (-DAM, outer), (0, outer))
    return [Path((corners,), TIMBER, closed=True), Path((corners[::2], corners[1::2]), FINE)]


def nose_out(fin: Slab) -> float:
    """Return how far out the frame's nose stands."""
    return fin.outer_at(fin.start) + NOSE


def _lumber(panel: Panel, start: float, end: float) -> list[Shape]:
    corners = panel.path((start, -panel.wall), (end, -panel.wall), (end, -SHEATHING), (start, -SHEATHING))
    return [Path((corners,), TIMBER, closed=True), Path((corners[::2], corners[1::2]), FINE)]


def _sheathing(panel: Panel) -> list[tuple[Point, ...]]:
    places = range(1, int(panel.reach * 2))
    return [
        panel.path((n / 2, -SHEATHING + 2), (n / 2 + 0.3, -2)) for n in places if n / 2 + 0.3 < panel.reach
    ]


def _outline(panel: Panel, slab: Slab) -> tuple[Point, ...]:
    outer, inner = list(slab.outer), list(reversed(slab.inner))
    if slab.piece.kind == "cap":
        face, fold = slab.outer_at(slab.start), slab.start + 0.35
        lip = [(slab.start, face + LIP), (slab.start + 0.3, face + LIP), (fold + 0.1, face)]
        return panel.path(*inner, *lip, (slab.end, face))
    if not slab.turns_in:
        return panel.path(*outer, *inner)
    thick, face = _thick(slab) / PER_INCH, slab.outer_at(slab.start)
    back, dam = -panel.wall, -(panel.wall - DAM_DEPTH) + _thick(slab)
    over = [(-DAM - thick, back), (-DAM - thick, dam), (-thick, dam), (-thick, face)]
    under = [(0.0, dam - _thick(slab)), (-DAM, dam - _thick(slab)), (-DAM, back)]
    return panel.path(*over, *outer, *inner, *under)


def _within(panel: Panel, slab: Slab, place: float, through: float) -> Point:
    inner, outer = slab.inner_at(place), slab.outer_at(place)
    return panel.at(place, inner + through * (outer - inner))


def _thick(slab: Slab) -> float:
    return slab.outer_at(slab.start) - slab.inner_at(slab.start)


def _screw(panel: Panel, slab: Slab) -> list[Shape]:
    head, tip = slab.outer_at(slab.start), -SHEATHING - 16
    wide = 3.2 / PER_INCH
    return [
        Path((panel.path((slab.start, head + 2), (slab.start, tip)),), LINE),
        Path(
            (
                panel.path(
                    (slab.start - wide, head + 2), (slab.start + wide, head + 2), (slab.start, head - 2)
                ),
            ),
            SOLID,
            closed=True,
        ),
    ]


def _unit(panel: Panel, slab: Slab) -> list[Shape]:
    """Return fin and frame as one section, and the glass on its way to the next face."""
    back, face = slab.inner_at(slab.start), slab.outer_at(slab.start)
    nose, inside, top = nose_out(slab), -(panel.wall - DAM_DEPTH - 1), slab.start - FRAME
    frame = panel.path(
        (slab.end, back), (slab.end, face), (slab.start + 0.3, face), (slab.start + 0.3, nose), (top, nose),
        (top, inside), (slab.start, inside), (slab.start, back),
    )  # fmt: skip
    rim = 4.0
    hollow = panel.path(
        (slab.start - 0.15, nose - rim - 8), (top + 0.3, nose - rim - 8), (top + 0.3, inside + rim),
        (slab.start - 0.15, inside + rim),
    )  # fmt: skip
    middle = (nose + inside) / 2
    glass = tuple(
        panel.path((top, middle + shift), (-OPENING, middle + shift)) for shift in (-6.0, -3.0, 5.0, 8.0)
    )
    return [
        Path((frame,), OUTLINE, closed=True),
        Path((hollow,), FINE, closed=True),
        Path(glass, FINE),
    ]


def stretches(slab: Slab, slabs: tuple[Slab, ...]) -> list[tuple[float, float]]:
    """Return where along the wall nothing lies over `slab`."""
    places = sorted({place for other in slabs for place in (other.start, other.end)})
    return [
        (left, right)
        for left, right in pairwise(places)
        if slab.start <= left
        and right <= slab.end
        and not any(
            other.depth > slab.depth and other.start <= left and right <= other.end for other in slabs
        )
    ]
