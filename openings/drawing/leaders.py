"""Where the numbers of a section stand, so that neither they nor their leaders cross. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from openings.drawing.shapes import LEADER, OUTLINE, SOLID, Circle, Path, Point, Shape, Text

RADIUS = 10.5
PITCH = 23.0
Side = Literal["left", "right", "top", "bottom"]


@dataclass(frozen=True, slots=True)
class Target:
    """A layer's number and the point its leader ends at."""

    number: int
    point: Point
    side: Side


@dataclass(frozen=True, slots=True)
class Row:
    """A line of numbers: at `fixed` across its direction, between `low` and `high` along it."""

    side: Side
    fixed: float
    low: float
    high: float


def draw_leaders(targets: Sequence[Target], rows: Sequence[Row]) -> list[Shape]:
    """Return numbers and leaders, each side's in the order of the points they lead to."""
    shapes: list[Shape] = []
    for row in rows:
        along = 1 if row.side in ("left", "right") else 0
        mine = sorted((t for t in targets if t.side == row.side), key=lambda t: (t.point[along], t.point))
        places = spread([target.point[along] for target in mine], pitch=PITCH, low=row.low, high=row.high)
        spots = [(row.fixed, place) if along else (place, row.fixed) for place in places]
        for target, spot in zip(_uncrossed(mine, spots), spots, strict=True):
            shapes += _leader(target, spot)
    return shapes


def spread(wanted: Sequence[float], *, pitch: float, low: float, high: float) -> tuple[float, ...]:
    """Return places in the order of `wanted`, at least `pitch` apart, near to what was wanted.

    They stay between `low` and `high` where there is room for all; else they start at `low`.
    """
    places: list[float] = []
    for place in wanted:
        places.append(max(place, places[-1] + pitch if places else low))
    limit = high
    for number in range(len(places) - 1, -1, -1):
        places[number] = min(places[number], limit)
        limit = places[number] - pitch
    over = low - places[0] if places else 0.0
    return tuple(place + over for place in places) if over > 0 else tuple(places)


def _uncrossed(targets: Sequence[Target], spots: Sequence[Point]) -> list[Target]:
    """Return the targets in the order of their spots such that no two leaders cross.

    Two crossing leaders that change places get shorter, so this ends.
    """
    placed = list(targets)
    crossing = True
    while crossing:
        crossing = False
        for low, high in combinations(range(len(placed)), 2):
            if _cross((spots[low], placed[low].point), (spots[high], placed[high].point)):
                placed[low], placed[high] = placed[high], placed[low]
                crossing = True
    return placed


def _cross(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    return (
        _turns(*one, other[0]) * _turns(*one, other[1]) < 0 > _turns(*other, one[0]) * _turns(*other, one[1])
    )


def _turns(start: Point, end: Point, point: Point) -> float:
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def _leader(target: Target, place: Point) -> list[Shape]:
    x, y = place
    return [
        Path(((place, target.point),), LEADER),
        Circle(*target.point, 1.9, SOLID),
        Circle(x, y, RADIUS, OUTLINE),
        Text(x, y + 4.4, str(target.number), 12.5, anchor="middle", bold=True),
    ]
