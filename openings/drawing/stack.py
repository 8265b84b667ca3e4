"""How the layers of one face lie on each other: each draped over what is under it, in lap order. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from openings.methods.choices import Choices
from openings.methods.laps import order_of
from openings.methods.method import Blocker, Face, Layer, Method, Run, Spot
from openings.takeoff.specification import Specification
from projects.quantities.length import Length

THICKNESS: Mapping[str, float] = {
    "sheet": 9, "flap": 9, "strip": 12, "pan": 12, "patch": 9, "bead": 10, "unit": 11, "cap": 5, "tape": 8,
    "cover": 12, "fasteners": 0, "seal": 0,
}  # fmt: skip
RIGID = ("unit", "cap")
SLOPE = 0.45
Knot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class SectionSizes:
    """The sizes that a section is drawn with."""

    sill_strip_width: Length
    jamb_strip_width: Length
    head_strip_width: Length
    pan_turn_down: Length
    wall_depth: Length
    unit_width: Length
    weep_gap: Length

    def place(self, spot: Spot) -> float:
        """Return the place along the wall, in inches from the edge of the rough opening."""
        return (self.named(spot.of) + spot.past if spot.of else spot.past).in_inches

    def named(self, name: str) -> Length:
        """Return the size that a method's file calls `name`."""
        size: Length = getattr(self, name)
        return size


@dataclass(frozen=True, slots=True)
class Piece:
    """What is drawn of a layer, or of a thing that blocks the drainage."""

    name: str
    kind: str
    hatch: str
    runs: tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class Slab:
    """A piece on one face: from `start` to `end` along the wall, between the knots of its two faces.

    Knots are (place along the wall in inches, how far out from the sheathing in drawing units).
    `depth` counts from the wall outwards.
    """

    piece: Piece
    depth: int
    start: float
    end: float
    beyond: bool
    turns_in: bool
    inner: tuple[Knot, ...]
    outer: tuple[Knot, ...]

    def inner_at(self, place: float) -> float:
        """Return how far out its back is at `place`."""
        return height_at(self.inner, place)

    def outer_at(self, place: float) -> float:
        """Return how far out its face is at `place`."""
        return height_at(self.outer, place)


def section_sizes(
    specification: Specification, *, unit_width: Length, wall_depth: Length | None = None
) -> SectionSizes:
    """Return the sizes for one opening; `wall_depth` is its own where it has one."""
    return SectionSizes(
        sill_strip_width=specification.sill_strip_width,
        jamb_strip_width=specification.jamb_strip_width,
        head_strip_width=specification.head_strip_width,
        pan_turn_down=specification.pan_turn_down,
        wall_depth=wall_depth or specification.wall_depth,
        unit_width=unit_width,
        weep_gap=specification.weep_gap,
    )


def depth_order(method: Method, choices: Choices, order: Sequence[str] | None) -> tuple[str, ...]:
    """Return the layers from the wall outwards: what came later lies over, but for a declared tuck."""
    names = list(order_of(method, choices) if order is None else order)
    for lap in method.laps:
        if lap.tuck and lap.over in names and lap.under in names:
            names.remove(lap.under)
            names.insert(names.index(lap.over), lap.under)
    return tuple(names)


def pieces_of(method: Method, choices: Choices, names: Sequence[str]) -> tuple[Piece, ...]:
    """Return what is drawn, in the order of `names`; names that the choices do not have are left out."""
    drawn: dict[str, Layer | Blocker] = {layer.name: layer for layer in method.layers_for(choices)}
    drawn |= {blocker.name: blocker for blocker in method.blockers}
    return tuple(_piece(drawn[name], choices) for name in names if name in drawn)


def stack(pieces: Sequence[Piece], face: Face, sizes: SectionSizes) -> tuple[Slab, ...]:
    """Return the slabs of one face from the wall outwards."""
    spans = [
        (piece, depth, run, sizes.place(run.start), sizes.place(run.end))
        for depth, piece in enumerate(pieces)
        for run in piece.runs
        if run.face == face
    ]
    places = sorted({place for *_, start, end in spans for place in (start, end)})
    skyline = dict.fromkeys(pairwise(places), 0.0)
    slabs = []
    for piece, depth, run, start, end in spans:
        covered = [cell for cell in skyline if start <= cell[0] and cell[1] <= end]
        base = {cell: skyline[cell] for cell in covered}
        if piece.kind in RIGID:
            base = dict.fromkeys(covered, max(base.values()))
        thick = THICKNESS[piece.kind]
        top = {cell: height + thick for cell, height in base.items()}
        skyline |= top
        slabs.append(Slab(piece, depth, start, end, run.beyond, run.turns_in, _knots(base), _knots(top)))
    return tuple(_squeezed(slab, slabs) for slab in slabs)


def skyline_of(slabs: Sequence[Slab]) -> tuple[Knot, ...]:
    """Return the knots of the outermost face all along the wall."""
    places = sorted({knot[0] for slab in slabs for knot in slab.outer})
    cells = {}
    for cell in pairwise(places):
        middle = (cell[0] + cell[1]) / 2
        cells[cell] = max(
            (slab.outer_at(middle) for slab in slabs if slab.start <= middle <= slab.end), default=0.0
        )
    return _knots(cells)


def height_at(knots: Sequence[Knot], place: float) -> float:
    """Return the height of a line of knots at `place`, level beyond its ends."""
    if place <= knots[0][0]:
        return knots[0][1]
    for (left, low), (right, high) in pairwise(knots):
        if left <= place <= right:
            return low if right == left else low + (high - low) * (place - left) / (right - left)
    return knots[-1][1]


def _piece(drawn: Layer | Blocker, choices: Choices) -> Piece:
    return Piece(
        name=drawn.name,
        kind=drawn.kind if isinstance(drawn, Layer) else "cover",
        hatch=drawn.hatch,
        runs=tuple(run for run in drawn.runs if run.when.holds(choices)),
    )


def _knots(heights: Mapping[tuple[float, float], float]) -> tuple[Knot, ...]:
    """Return the line over cells of constant height, sloped where a membrane bridges a step."""
    cells = sorted(heights)
    knots: list[Knot] = [(cells[0][0], heights[cells[0]])]
    for left, right in pairwise(cells):
        place, low, high = right[0], heights[left], heights[right]
        if low > high:
            room = min(SLOPE, (right[1] - right[0]) / 2)
            knots += [(place, low), (place + room, high)]
        elif low < high:
            room = min(SLOPE, (left[1] - left[0]) / 2)
            knots += [(place - room, low), (place, high)]
    knots.append((cells[-1][1], heights[cells[-1]]))
    return tuple(knots)


def _squeezed(slab: Slab, slabs: Sequence[Slab]) -> Slab:
    """Return a bead behind a fin as the fin squeezes it; in the hinge line it lies on the fin alone."""
    fins = [other for other in slabs if other.piece.kind == "unit" and other.depth > slab.depth]
    if slab.piece.kind != "bead" or not fins:
        return slab
    back = fins[0].inner_at(slab.start)
    inner = slab.inner if slab.start >= 0 else ((slab.start, back - 9), (slab.end, back - 9))
    return replace(slab, inner=inner, outer=((slab.start, back), (slab.end, back)))
