"""One opening as the takeoff reads it: measured values and what its row overrides. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from projects.quantities.length import Length
from projects.quantities.mass import Mass

SMALLEST = Length.inches(6)
LARGEST = Length.inches(240)


@dataclass(frozen=True, slots=True)
class GlassPanes:
    """Panes over the unit's whole size: `2x3mm` is two panes of 3 mm."""

    panes: int
    thickness: Length


@dataclass(frozen=True, slots=True)
class OpeningInput:
    """An opening of a window schedule. None means: the specification's default holds.

    Sizes are of the frame (`unit_*`) and of the framed hole (`ro_*`); heights of the RO are from finished
    grade, `offset` from the left end of the elevation to the RO. `fastener_max` and `fastener_corner` are the
    window maker's.
    """

    mark: str
    elevation: str
    unit_width: Length
    unit_height: Length
    ro_width: Length
    ro_height: Length
    fin: str | None = None
    corners: str | None = None
    method: str | None = None
    over_fin: str | None = None
    pan: str | None = None
    wall_depth: Length | None = None
    sill_height: Length | None = None
    offset: Length | None = None
    mulls: int = 0
    weight: Mass | None = None
    glass: GlassPanes | None = None
    fastener_corner: Length | None = None
    fastener_max: Length | None = None
    head_fasteners: str | None = None
    flags: tuple[str, ...] = ()
    note: str = ""
    row: int | None = None
