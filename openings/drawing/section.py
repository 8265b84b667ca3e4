"""The section through head, jamb and sill of one opening, drawn from the method's layers and laps. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from openings.drawing.gaps import draw_weep_gaps
from openings.drawing.leaders import Row, Side, Target, draw_leaders
from openings.drawing.panel import (
    GAP,
    OPENING,
    PER_INCH,
    Panel,
    draw_dam,
    draw_seal,
    draw_slab,
    draw_wall,
    stretches,
)
from openings.drawing.shapes import FINE, Drawing, LegendEntry, Path, Shape, Text
from openings.drawing.stack import THICKNESS, Piece, SectionSizes, Slab, depth_order, pieces_of, stack
from openings.drawing.water import Break, breaks_on, draw_water
from openings.methods.choices import Choices
from openings.methods.laps import LapCheck, check_order, order_of
from openings.methods.method import Blocker, Face, Lap, Layer, Method
from projects.quantities.length import Length

WIDTH = 400.0
TITLE = 30.0
WALL_FACE = 222.0
DEEPEST_WALL = 104.0
FACES: tuple[Face, ...] = ("head", "jamb", "sill")
INSIDE_KINDS = ("unit", "seal", "pan")
TITLES = {"head": "Head", "jamb": "Jamb, from above", "sill": "Sill"}


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the three faces share: the pieces with their numbers, the reversed laps, the sizes."""

    pieces: tuple[Piece, ...]
    numbers: dict[str, int]
    reversed_laps: tuple[Lap, ...]
    sizes: SectionSizes


def draw_section(
    method: Method,
    choices: Choices,
    *,
    sizes: SectionSizes,
    order: Sequence[str] | None = None,
) -> Drawing:
    """Return the section with a legend entry per number.

    `order` is the order in which layers went on; None is the method's own. What came later is drawn outboard,
    and each pair that the order breaks is marked as a leak. Raises BadValue where `order` repeats a name.
    """
    items = tuple(order_of(method, choices) if order is None else order)
    check = check_order(method, choices, items)
    pieces = pieces_of(method, choices, depth_order(method, choices, order))
    numbers = {name: number for number, name in enumerate(_drawn(items, pieces), 1)}
    sheet = Sheet(pieces, numbers, check.reverse_laps, sizes)
    shapes: list[Shape] = []
    shown: list[Break] = []
    top = 0.0
    for face in FACES:
        panel_shapes, breaks, height = _face(sheet, face, top)
        shapes += panel_shapes
        shown += breaks
        top += height
    gaps, height = draw_weep_gaps(pieces, sizes, top=top, width=WIDTH)
    return Drawing(
        width=WIDTH,
        height=top + height,
        title=f"Section, method {method.code}",
        description=_description(method, check),
        shapes=(*shapes, *gaps),
        legend=_legend(method, choices, sheet),
        notes=_notes(method, choices, check, shown),
    )


def _drawn(items: Sequence[str], pieces: Sequence[Piece]) -> list[str]:
    names = {piece.name for piece in pieces}
    return [name for name in items if name in names]


def _face(sheet: Sheet, face: Face, top: float) -> tuple[list[Shape], tuple[Break, ...], float]:
    """Return a face's shapes, the breaks it shows and its height."""
    slabs = stack(sheet.pieces, face, sheet.sizes)
    panel, height = _panel(sheet, face, slabs, top)
    cut = [slab for slab in slabs if slab.piece.kind != "seal"]
    breaks = breaks_on(cut, sheet.reversed_laps)
    shapes = _heading(face, top)
    shapes += draw_wall(panel)
    pan = next((slab for slab in cut if slab.turns_in), None)
    if pan is not None:
        shapes += draw_dam(panel)
    for slab in sorted(cut, key=lambda slab: (slab.piece.kind == "fasteners", slab.depth)):
        shapes += draw_slab(panel, slab)
    if len(cut) < len(slabs):
        shapes += draw_seal(panel, on_pan=THICKNESS["pan"] if pan is not None else 0.0)
    shapes += draw_water(panel, [slab for slab in cut if slab.piece.kind != "fasteners"], breaks)
    targets = [_target(panel, slab, slabs, sheet.numbers[slab.piece.name]) for slab in slabs]
    shapes += draw_leaders(targets, _rows(face, top, height))
    return shapes, breaks, height


def _panel(sheet: Sheet, face: Face, slabs: Sequence[Slab], top: float) -> tuple[Panel, float]:
    wall = min(sheet.sizes.wall_depth.in_inches * PER_INCH, DEEPEST_WALL)
    reach = max((slab.end for slab in slabs), default=9.0) + 0.7
    if face == "jamb":
        out = max((height for slab in slabs for _, height in slab.outer), default=0.0)
        above = TITLE + 34
        return Panel(face, 124, top + above + wall, reach, wall), above + wall + out + 66
    height = TITLE + (OPENING + reach) * PER_INCH + 16
    edge = top + TITLE + (reach if face == "head" else OPENING) * PER_INCH
    return Panel(face, WALL_FACE, edge, reach, wall), height


def _heading(face: Face, top: float) -> list[Shape]:
    sides = ("inside on top", "") if face == "jamb" else ("inside", "outside")
    return [
        Path((((0, top + 24), (WIDTH, top + 24)),), FINE),
        Text(2, top + 18, TITLES[face], 16, bold=True),
        Text(WIDTH - 2, top + 18, sides[0], 13, anchor="end"),
        Text(WALL_FACE - 10, top + 18, sides[1], 13, anchor="end"),
    ]


def _rows(face: Face, top: float, height: float) -> tuple[Row, ...]:
    low, high = top + TITLE + 12, top + height - 14
    if face == "jamb":
        return (
            Row("top", top + TITLE + 12, 16, WIDTH - 16),
            Row("bottom", top + height - 18, 16, WIDTH - 16),
        )
    return (Row("left", 14, low, high), Row("right", WIDTH - 14, low, high))


def _target(panel: Panel, slab: Slab, slabs: Sequence[Slab], number: int) -> Target:
    """Return where a layer's leader ends: in the middle of where it is outermost, else of the whole layer."""
    is_inside = slab.piece.kind in INSIDE_KINDS
    side: Side = "right" if is_inside else "left"
    if panel.face == "jamb":
        side = "top" if is_inside else "bottom"
    if slab.piece.kind == "seal":
        return Target(number, panel.at(-GAP * 0.8, -(panel.wall - 16)), side)
    if slab.piece.kind == "unit":
        return Target(number, panel.at(slab.start - 1.2, -20), side)
    if slab.turns_in:
        return Target(number, panel.at(-0.35, -panel.wall * 0.5), side)
    free = stretches(slab, tuple(slabs)) or [(slab.start, slab.end)]
    left, right = max(free, key=lambda span: span[1] - span[0])
    place = (left + right) / 2
    return Target(number, panel.at(place, (slab.inner_at(place) + slab.outer_at(place)) / 2), side)


def _legend(method: Method, choices: Choices, sheet: Sheet) -> tuple[LegendEntry, ...]:
    wrong = {name for lap in sheet.reversed_laps for name in (lap.over, lap.under)}
    laps = [lap for lap in method.laps if lap.when.holds(choices)]
    here: dict[str, Layer | Blocker] = {blocker.name: blocker for blocker in method.blockers}
    here |= {layer.name: layer for layer in method.layers_for(choices)}
    return tuple(
        LegendEntry(
            number=number,
            name=name,
            material=_material(here[name], choices),
            width=_strip_width(here[name], sheet.sizes),
            lies_over=tuple(lap.under for lap in laps if lap.over == name and lap.under in sheet.numbers),
            is_reversed=name in wrong,
            grade=here[name].grade,
            source=here[name].source,
        )
        for name, number in sheet.numbers.items()
    )


def _material(drawn: Layer | Blocker, choices: Choices) -> str:
    return drawn.material_for(choices) if isinstance(drawn, Layer) else "membrane"


def _strip_width(drawn: Layer | Blocker, sizes: SectionSizes) -> Length | None:
    """Return the width of a strip: the size that its run ends at."""
    if not isinstance(drawn, Layer) or drawn.kind != "strip":
        return None
    return next((sizes.named(run.end.of) for run in drawn.runs if run.end.of), None)


def _notes(method: Method, choices: Choices, check: LapCheck, shown: Sequence[Break]) -> tuple[str, ...]:
    marked = [each.lap for each in shown]
    told = [
        f"Reverse lap{'' if lap in marked else ', beside the cuts'}: "
        f"{lap.over} must lie over {lap.under}. {lap.why}"
        for lap in check.reverse_laps
    ]
    told += [
        f"Wrong order: {after.first} comes before {after.then}. {after.why}" for after in check.wrong_order
    ]
    if check.drainage_blocked:
        told += [blocker.why for blocker in method.blockers if blocker.when.holds(choices)]
    told += [caution.text for caution in method.cautions if caution.when.holds(choices)]
    return tuple(told)


def _description(method: Method, check: LapCheck) -> str:
    state = "Each layer lies over the one below it." if check.is_legal else "It leaks where it is marked."
    return (
        f"{method.label}. Head, jamb and sill of one opening cut through, the layers numbered in the order "
        f"in which they go on and drawn thicker than they are. A dotted line is water running down. {state}"
    )
