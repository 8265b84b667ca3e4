"""How an opening looks in each of its states: by line and hatch, never by colour alone. Pure."""

from __future__ import annotations

from openings.drawing.placing import STATES
from openings.drawing.shapes import FINE, HEAVY, LINE, OUTLINE, Path, Point, Rect, Shape

FIN = 3.0


def draw_state(state: str, *, x: float, y: float, width: float, height: float, inset: float) -> list[Shape]:
    """Return an opening at `x`, `y` in its state.

    A waiting opening is a hole. Prepared: flashed, with a line round it. Set: the unit stands in it, `inset`
    from the RO. Sealed: its edge is heavy. Curing: dotted. Closed: crossed by lines. Checked: ticked too.
    """
    reached = STATES.index(state)
    shapes: list[Shape] = []
    if reached >= STATES.index("prepared"):
        shapes.append(Rect(x - FIN, y - FIN, width + 2 * FIN, height + 2 * FIN, FINE))
    shapes.append(Rect(x, y, width, height, OUTLINE))
    if reached < STATES.index("set"):
        return shapes
    pen = HEAVY if reached >= STATES.index("sealed") else LINE
    edge = inset + 1.5
    pane = (x + edge, y + edge, max(width - 2 * edge, 1), max(height - 2 * edge, 1))
    shapes.append(Rect(*pane, pen))
    if state == "curing":
        shapes.append(Path(_dots(*pane), FINE))
    if reached >= STATES.index("closed"):
        shapes.append(Path(_lines(*pane), FINE))
    if state == "checked":
        shapes.append(Path((_tick(x + width, y + height),), HEAVY))
    return shapes


def _dots(x: float, y: float, width: float, height: float) -> tuple[tuple[Point, ...], ...]:
    step = 6.0
    return tuple(
        ((x + column * step, y + row * step), (x + column * step + 1.2, y + row * step))
        for row in range(1, int(height / step))
        for column in range(1, int(width / step))
    )


def _lines(x: float, y: float, width: float, height: float) -> tuple[tuple[Point, ...], ...]:
    step = 6.0
    return tuple(((x, y + row * step), (x + width, y + row * step)) for row in range(1, int(height / step)))


def _tick(x: float, y: float) -> tuple[Point, ...]:
    return ((x - 13, y - 9), (x - 8, y - 4), (x - 2, y - 15))
