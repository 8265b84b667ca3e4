"""Dimensions where a carpenter writes them: along the foot of an elevation and up its left edge. Pure."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from openings.drawing.leaders import spread
from openings.drawing.placing import Placed, PlacedElevation
from openings.drawing.shapes import FINE, LINE, Path, Shape, Text, text_width
from projects.quantities.length import Length
from projects.quantities.text import format_feet

SMALL = 0.84  # of the drawing's letters
TICK = 3.5
FOOT = 12.0


def chains_height(face: PlacedElevation, letters: float) -> float:
    """Return how far the dimension lines of an elevation reach below grade."""
    return FOOT + sum(_chain_height(stops, SMALL * letters) for stops in _chains(face))


def draw_chains(face: PlacedElevation, *, grade: float, letters: float) -> list[Shape]:
    """Return one line of dimensions for each storey with measured openings, the lowest first."""
    size = SMALL * letters
    shapes: list[Shape] = []
    line = grade + FOOT
    for stops in _chains(face):
        height = _chain_height(stops, size)
        line += height - TICK
        shapes.append(Path((((stops[0], line), (stops[-1], line)),), FINE))
        ticks = tuple(((x - TICK, line + TICK), (x + TICK, line - TICK)) for x in stops)
        shapes.append(Path(ticks, LINE))
        for left, right in pairwise(stops):
            shapes += _written(left, right, line, size)
        line += TICK
    return shapes


def pole_width(face: PlacedElevation, letters: float) -> float:
    """Return how much room the heights beside an elevation take."""
    texts = [_text(height) for height in _heights(face)]
    return max((text_width(text, SMALL * letters) for text in texts), default=0.0) + (24 if texts else 0)


def draw_pole(face: PlacedElevation, *, grade: float, letters: float) -> list[Shape]:
    """Return the given heights above grade like the marks of a story pole, left of the wall's edge at 0."""
    heights = _heights(face)
    if not heights:
        return []
    size, pole = SMALL * letters, -10.0
    pitch = 1.15 * size
    shapes: list[Shape] = [
        Path((((pole, grade), (pole, grade - heights[0])),), FINE),
        Path(tuple(((pole - 4, grade - height), (pole + 4, grade - height)) for height in heights), FINE),
    ]
    written = heights
    if len(heights) * pitch > heights[0]:
        written = heights[:: math.ceil(len(heights) * pitch / heights[0])]
    wanted = [grade - height for height in written]
    rows = spread(wanted, pitch=pitch, low=wanted[0], high=max(grade - 0.4 * size, wanted[0]))
    for y, row, height in zip(wanted, rows, written, strict=True):
        shapes.append(Path((((pole - 4, y), (pole - 9, row)),), FINE))
        shapes.append(Text(pole - 11, row + 0.35 * size, _text(height), size, anchor="end"))
    return shapes


def _chains(face: PlacedElevation) -> list[tuple[float, ...]]:
    """Return the stops of each storey's line: the wall's ends and the edges of measured openings."""
    chains = []
    for level in sorted({each.level for each in face.placed}):
        measured = [each for each in face.placed if each.level == level and each.opening.offset is not None]
        if measured:
            chains.append(_stops(measured, face.length))
    return chains


def _stops(measured: Sequence[Placed], length: float) -> tuple[float, ...]:
    edges = {edge for each in measured for edge in (each.left, each.right)}
    return tuple(sorted({0.0, length, *edges}))


def _chain_height(stops: Sequence[float], size: float) -> float:
    upright = [
        text_width(_text(right - left), size)
        for left, right in pairwise(stops)
        if not _is_level(left, right, size)
    ]
    return max([1.2 * size, *upright]) + 2 * TICK


def _is_level(left: float, right: float, size: float) -> bool:
    return text_width(_text(right - left), size) <= right - left - 2 * TICK


def _written(left: float, right: float, line: float, size: float) -> list[Shape]:
    text, middle = _text(right - left), (left + right) / 2
    if _is_level(left, right, size):
        return [Text(middle, line - TICK - 0.5, text, size, anchor="middle")]
    if right - left < size + 2:
        return []  # narrower than a line of text: the list has the number
    return [Text(middle + 0.35 * size, line - TICK - 1, text, size, upright=True)]


def _heights(face: PlacedElevation) -> list[float]:
    """Return the given heights above grade, highest first."""
    known = [each for each in face.placed if each.opening.sill_height is not None]
    heights = {height for each in known for height in (each.sill, each.head) if height > 0}
    return sorted(heights, reverse=True)


def _text(inches: float) -> str:
    return format_feet(Length.inches(inches))
