"""An elevation small enough for a cell of the week: wall, grade, openings where they are. Pure.

One drawing unit is an inch of the wall. No letters: the crew's code is set over it by the page.
"""

from __future__ import annotations

from openings.drawing.placing import DrawnElevation, place
from openings.drawing.shapes import Drawing, Path, Pen, Rect, Shape

EAVES = 24
EDGE = 12
LOWEST_TOP = 108
# strokes as wide as an inch or two of wall: the drawing is shown at a tenth of its size or less
WALL = Pen("line", width=6)
GRADE = Pen("heavy", width=14)
HOLE = Pen("outline", fill="#fff", width=4)


def draw_small_face(elevation: DrawnElevation) -> Drawing:
    """Return the wall with its openings, to scale, as wide as it is long."""
    placed = place(elevation)
    grade = EDGE + max(LOWEST_TOP, round(placed.top) + EAVES)
    length = round(placed.length)
    right = EDGE + length
    shapes: list[Shape] = [
        Path((((EDGE, grade), (EDGE, EDGE), (right, EDGE), (right, grade)),), WALL),
        Path((((0, grade), (right + EDGE, grade)),), GRADE),
    ]
    shapes += [
        Rect(EDGE + round(each.left), grade - round(each.head), round(each.width), round(each.height), HOLE)
        for each in placed.placed
    ]
    count = len(placed.placed)
    return Drawing(
        width=right + EDGE,
        height=grade + EDGE,
        title=f"Elevation {elevation.name}",
        description=f"{count} opening{'' if count == 1 else 's'} on the wall.",
        shapes=tuple(shapes),
    )
