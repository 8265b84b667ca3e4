"""What of an opening decides its lines: sizes and overrides as whole numbers, and nothing else. Pure."""

from __future__ import annotations

from typing import NamedTuple

from openings.takeoff.opening import OpeningInput
from projects.quantities.length import Length

OVERRIDES_FROM = 5


class Geometry(NamedTuple):
    """Two openings with the same geometry need the same things, whatever their marks and places.

    Lengths are in nanometres. None means: the specification's default holds. From `fin` on stand the
    overrides, which decide the terms; before it the sizes.
    """

    unit_width_nm: int
    unit_height_nm: int
    ro_width_nm: int
    ro_height_nm: int
    mulls: int = 0
    fin: str | None = None
    corners: str | None = None
    method: str | None = None
    over_fin: str | None = None
    pan: str | None = None
    wall_depth_nm: int | None = None
    fastener_corner_nm: int | None = None
    fastener_max_nm: int | None = None
    head_fasteners: str | None = None


def geometry_of(opening: OpeningInput) -> Geometry:
    """Return the geometry of `opening`."""
    return Geometry(
        opening.unit_width.nm,
        opening.unit_height.nm,
        opening.ro_width.nm,
        opening.ro_height.nm,
        opening.mulls,
        opening.fin,
        opening.corners,
        opening.method,
        opening.over_fin,
        opening.pan,
        _nm(opening.wall_depth),
        _nm(opening.fastener_corner),
        _nm(opening.fastener_max),
        opening.head_fasteners,
    )


def _nm(length: Length | None) -> int | None:
    return None if length is None else length.nm
