"""The sill seen from outside: the bead on the fin and its weep gaps, to the unit's own width. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from openings.drawing.hatch import hatch
from openings.drawing.shapes import (
    BEYOND,
    FINE,
    LINE,
    OUTLINE,
    SOLID,
    WATER,
    Path,
    Rect,
    Shape,
    Text,
)
from openings.drawing.stack import Piece, SectionSizes
from openings.drawing.water import draw_mark
from projects.quantities.text import format_rounded

EDGE = 44.0
FIN = 24.0
TALL = 46.0


def draw_weep_gaps(
    pieces: Sequence[Piece], sizes: SectionSizes, *, top: float, width: float
) -> tuple[list[Shape], float]:
    """Return the sill from outside and its height on the sheet."""
    kinds = {piece.kind for piece in pieces}
    left, right = EDGE, width - EDGE
    frame = top + 34 + TALL
    shapes = _fin(left, right, top=top + 34, frame=frame)
    shapes += [
        Path((((0, top + 24), (width, top + 24)),), FINE),
        Text(2, top + 18, "Sill from outside", 16, bold=True),
    ]
    scale = (right - left) / sizes.unit_width.in_inches
    has_gaps = "pan" in kinds and bool(sizes.weep_gap)
    gap = min(sizes.weep_gap.in_inches * scale, (right - left) / 2) if has_gaps else 0.0
    shapes += _beads(pieces, left + gap, right - gap, frame)
    if not has_gaps:
        shapes.append(
            Text(
                width / 2,
                frame + FIN + 20,
                "no pan: no weep gaps" if "pan" not in kinds else "no weep gaps",
                13,
                anchor="middle",
            )
        )
        return shapes, TALL + FIN + 68
    covered = "cover" in kinds
    if covered:
        shapes += _cover(left, right, frame)
    for corner, inner in ((left, left + gap), (right, right - gap)):
        shapes += _gap(corner, inner, frame, text=format_rounded(sizes.weep_gap), covered=covered)
    told = "weep gaps covered" if covered else "weep gaps left open"
    shapes.append(Text(width / 2, frame + FIN + 32, told, 13, anchor="middle"))
    return shapes, TALL + FIN + 90


def _fin(left: float, right: float, *, top: float, frame: float) -> list[Shape]:
    """Return the frame's lower edge and the fin round it, broken off above."""
    low = frame + FIN
    return [
        Path((((left, top), (left, frame), (right, frame), (right, top)),), LINE),
        Path((((left - FIN, top), (left - FIN, low), (right + FIN, low), (right + FIN, top)),), LINE),
        Path((((left + 6, top), (left + 6, frame - 6), (right - 6, frame - 6), (right - 6, top)),), FINE),
    ]


def _beads(pieces: Sequence[Piece], start: float, end: float, frame: float) -> list[Shape]:
    """Return the sill's beads: dashed behind the fin, solid on its face."""
    names = [piece.kind for piece in pieces]
    unit = names.index("unit") if "unit" in names else len(names)
    shapes: list[Shape] = []
    for number, piece in enumerate(pieces):
        # a hinge bead has no gaps and lies inside the fold: its run starts off the wall
        on_fin = piece.kind == "bead" and any(r.face == "sill" and r.start.past.nm >= 0 for r in piece.runs)
        if not on_fin or end <= start:
            continue
        pen, high = (BEYOND, 7.0) if number < unit else (SOLID, 9.0)
        shapes.append(Rect(start, frame + (FIN - high) / 2, end - start, high, pen))
    return shapes


def _cover(left: float, right: float, frame: float) -> list[Shape]:
    top, low, long = frame + 3, frame + FIN + 10, right - left + 2 * FIN
    strokes = hatch(
        "crossed",
        lambda along, through: (left - FIN + along, low + through * (top - low)),
        length=long,
    )
    return [Rect(left - FIN, top, long, low - top, OUTLINE), Path(strokes, FINE)]


def _gap(corner: float, inner: float, frame: float, *, text: str, covered: bool) -> list[Shape]:
    """Return one weep gap: water running out of it, or stopped, and its width from the frame's corner."""
    middle, low = (corner + inner) / 2, frame + FIN
    line = low + 34
    shapes: list[Shape] = [
        Path((((corner, frame + 2), (corner, line + 4)), ((inner, frame + 2), (inner, line + 4))), FINE),
        Path((((corner, line), (inner, line)),), FINE),
        Path(tuple(((x - 3, line + 3), (x + 3, line - 3)) for x in (corner, inner)), LINE),
        Text(middle, line + 16, text, 13.5, anchor="middle"),
    ]
    if covered:
        return shapes + draw_mark((middle, low))
    drop = (((middle, frame + 4), (middle, low + 18)),)
    head = (((middle - 4, low + 17), (middle, low + 24), (middle + 4, low + 17)),)
    return [*shapes, Path(drop, WATER), Path(head, LINE)]
