"""A house's elevations in walking order, to one scale: one drawing unit is one inch. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from openings.drawing.dimensions import chains_height, draw_chains, draw_pole, pole_width
from openings.drawing.placing import STATES, DrawnElevation, DrawnOpening, Placed, PlacedElevation, place
from openings.drawing.shapes import (
    FINE,
    HEAVY,
    LINE,
    Drawing,
    Path,
    Shape,
    Text,
    lettered,
    moved,
    shortened,
    text_width,
)
from openings.drawing.states import draw_state

SMALLEST_LETTERS, LARGEST_LETTERS = 16.0, 30.0
LETTERS_IN_LENGTH = 22.0  # letters grow with the wall, so that a phone can show it
HOUSE_LETTERS = 17.0
EAVES = 24.0
LOWEST_TOP = 108.0
EDGE = 10.0
APART = 30.0
MARGIN = 8.0
SMALLER = 0.8
LONGEST_NAME = 24


@dataclass(frozen=True, slots=True)
class OpeningRow:
    """What the drawing shows of an opening, for a list; None is what the schedule does not give."""

    elevation: str
    opening: DrawnOpening


def draw_elevation(elevation: DrawnElevation) -> Drawing:
    """Return one elevation: grade line, openings with mark and state, dimensions."""
    placed = place(elevation)
    letters = min(max(SMALLEST_LETTERS, placed.length / LETTERS_IN_LENGTH), LARGEST_LETTERS)
    return _sheet([placed], title=f"Elevation {elevation.name}", letters=letters)


def draw_house(name: str, elevations: Sequence[DrawnElevation]) -> Drawing:
    """Return the elevations side by side in walking order, on one grade line, to one scale."""
    placed = [place(elevation) for elevation in elevations]
    return _sheet(placed, title=f"House {name}", letters=HOUSE_LETTERS)


def list_openings(elevations: Sequence[DrawnElevation]) -> tuple[OpeningRow, ...]:
    """Return the same as a list, in walking order and the schedule's order."""
    return tuple(OpeningRow(face.name, opening) for face in elevations for opening in face.openings)


def _sheet(faces: Sequence[PlacedElevation], *, title: str, letters: float) -> Drawing:
    grade = EDGE + max(_top(face, letters) for face in faces) if faces else EDGE + LOWEST_TOP
    foot = grade + max((chains_height(face, letters) for face in faces), default=0.0) + 1.6 * letters
    shapes: list[Shape] = []
    left = EDGE
    for face in faces:
        left += pole_width(face, letters)
        drawn = [
            *_wall(face, grade=grade, letters=letters),
            *draw_pole(face, grade=grade, letters=letters),
            *draw_chains(face, grade=grade, letters=letters),
            *_name(face, foot=foot, letters=letters),
        ]
        shapes += [moved(shape, across=left) for shape in drawn]
        left += max(face.length, text_width(_named(face), letters, bold=True)) + APART
    width = max(left - APART + EDGE, 18 * letters)
    key, bottom = _key(faces, top=foot + letters, width=width, letters=letters)
    return Drawing(
        width=round(width, 1),
        height=round(bottom + EDGE, 1),
        title=title,
        description=_description(faces),
        shapes=(*shapes, *key),
        notes=tuple(note for face in faces for note in face.notes),
    )


def _top(face: PlacedElevation, letters: float) -> float:
    """Return how high the wall is drawn: above its highest head there is room for a mark."""
    return max(LOWEST_TOP, face.top + EAVES + letters)


def _wall(face: PlacedElevation, *, grade: float, letters: float) -> list[Shape]:
    """Return the wall's outline on its grade line, and its openings."""
    top = grade - _top(face, letters)
    earth = tuple(((x + 6, grade + 1), (x, grade + 7)) for x in range(0, int(face.length) - 6, 14))
    shapes: list[Shape] = [
        Path((((0, grade), (0, top), (face.length, top), (face.length, grade)),), LINE),
        Path((((-6, grade), (face.length + 6, grade)),), HEAVY),
        Path(earth, FINE),
    ]
    for each in face.placed:
        shapes += _opening(each, face, grade=grade, letters=letters)
    if not face.placed:
        words = shortened("no openings", size=letters, room=face.length)
        shapes.append(Text(face.length / 2, grade - LOWEST_TOP / 2, words, letters, anchor="middle"))
    return shapes


def _opening(each: Placed, face: PlacedElevation, *, grade: float, letters: float) -> list[Shape]:
    """Return an opening in its state, with its mark."""
    y = grade - each.head
    inset = (each.opening.ro_width - each.opening.unit_width).in_inches / 2
    shapes = draw_state(
        each.opening.state, x=each.left, y=y, width=each.width, height=each.height, inset=max(inset, 0.0)
    )
    return [*shapes, *_mark(each, face, y=y, letters=letters)]


def _mark(each: Placed, face: PlacedElevation, *, y: float, letters: float) -> tuple[Shape, ...]:
    """Return the mark on a blank: in the opening, upright in a narrow one, above it where it is too long."""
    mark = each.opening.mark
    wide = text_width(mark, letters, bold=True)
    middle, centre = each.left + each.width / 2, y + each.height / 2
    if wide <= each.width - MARGIN and letters <= each.height:
        return lettered(Text(middle, centre + 0.35 * letters, mark, letters, "middle", bold=True))
    if wide <= each.height - MARGIN and letters <= each.width - MARGIN:
        return lettered(
            Text(middle + 0.35 * letters, centre, mark, letters, "middle", bold=True, upright=True)
        )
    left, right = _free_above(each, face, letters)
    above = 2 * min(middle - left, right - middle) - 4
    room = max(above, each.width - MARGIN)
    size = letters if wide <= room else SMALLER * letters
    if above == room:
        text = shortened(mark, size=size, room=room, bold=True)
        return lettered(Text(middle, y - MARGIN, text, size, "middle", bold=True))
    size = min(size, 0.8 * each.height, 0.8 * each.width)
    text = shortened(mark, size=size, room=room, bold=True)
    return lettered(Text(middle, centre + 0.35 * size, text, size, "middle", bold=True))


def _free_above(each: Placed, face: PlacedElevation, letters: float) -> tuple[float, float]:
    """Return from where to where the wall is free above an opening, to the middle of the gaps beside it."""
    label = letters + 2 * MARGIN
    low, high = each.head, each.head + label
    left, right = 0.0, face.length
    for other in face.placed:
        if other is each or other.head + label < low or other.sill > high:
            continue
        if other.left < each.right and each.left < other.right:
            if other.head > low:
                return each.right, each.left  # something stands right above: no room at all
        elif other.right <= each.left:
            left = max(left, (other.right + each.left) / 2)
        else:
            right = min(right, (each.right + other.left) / 2)
    return left, right


def _name(face: PlacedElevation, *, foot: float, letters: float) -> list[Shape]:
    return [Text(0, foot, _named(face), letters, bold=True)]


def _named(face: PlacedElevation) -> str:
    name = face.name if len(face.name) <= LONGEST_NAME else face.name[:LONGEST_NAME] + "…"
    return f"{name}, {len(face.placed)} opening{'' if len(face.placed) == 1 else 's'}"


def _key(
    faces: Sequence[PlacedElevation], *, top: float, width: float, letters: float
) -> tuple[list[Shape], float]:
    """Return the states that occur, drawn and named, a bar of ten feet, and where they end."""
    size = 0.85 * letters
    there = {each.opening.state for face in faces for each in face.placed}
    high, wide = 1.8 * letters, 1.4 * letters
    shapes: list[Shape] = []
    x, y = EDGE, top
    for state in (state for state in STATES if state in there):
        room = wide + 8 + text_width(state, size) + 14
        if x + room > width and x > EDGE:
            x, y = EDGE, y + high + 10
        shapes += draw_state(state, x=x + 3, y=y, width=wide, height=high, inset=1)
        shapes.append(Text(x + wide + 9, y + 0.68 * high, state, size))
        x += room
    y += high + 0.9 * letters if there else 0
    bar = ((EDGE, y - 4), (EDGE, y), (EDGE + 120, y), (EDGE + 120, y - 4))
    half = ((EDGE + 60, y - 4), (EDGE + 60, y))
    shapes += [Path((bar, half), LINE), Text(EDGE + 127, y + 2, "10 ft", size)]
    return shapes, y + 0.3 * letters


def _description(faces: Sequence[PlacedElevation]) -> str:
    told = [f"{face.name} with {len(face.placed)} openings" for face in faces]
    return f"Elevations to one scale, in walking order: {'; '.join(told) or 'none yet'}. Listed beside it."
