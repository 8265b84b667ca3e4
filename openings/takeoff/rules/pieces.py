"""How many patches, shims and drip caps an opening takes. Pure."""

from __future__ import annotations

from functools import lru_cache
from typing import ClassVar

from openings.takeoff.demand import Line, Piece, Stated, Stick
from openings.takeoff.geometry import Geometry
from openings.takeoff.rules.rule import COMMON_PRACTICE, CORNER, HEAD, LEFT_JAMB, RIGHT_JAMB, SILL, LayerRule
from openings.takeoff.terms import Terms
from projects.quantities.length import NM_PER_INCH

PATCHES_OF_OPEN_CORNERS = 4
PATCHES_PER_MULL = 2
SHIMS_PER_POINT = 2
SILL_SHIM_SPACING = 15 * NM_PER_INCH
SILL_SHIM_ENDS = 8 * NM_PER_INCH
TALL_JAMB = 48 * NM_PER_INCH


class CornerPatch:
    """A patch on each open fin corner, and two where the fins of a factory mull butt."""

    stated = Stated(
        part="corner patch",
        kind="piece",
        basis="4 where corners are open + 2 x mulls",
        grade="C",
        source=COMMON_PRACTICE,
        inputs=("corners", "mulls"),
    )
    states: ClassVar[tuple[Stated, ...]] = (stated,)

    def wanted(self, terms: Terms) -> bool:
        """Return True: a mull brings patches whatever the corners."""
        return True

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return all patches as one line, none where there are none."""
        corners = PATCHES_OF_OPEN_CORNERS if "corner patch" in terms.parts else 0
        count = corners + PATCHES_PER_MULL * geometry.mulls
        return (Piece(self.stated, CORNER, count),) if count else ()


class DripCap(LayerRule):
    """A drip cap over the head, where the drawings ask for it."""

    layer = "drip cap"
    stated = Stated(
        part="drip cap",
        kind="stick",
        basis="unit_width + 1/2",
        grade="C",
        source=COMMON_PRACTICE,
        inputs=("unit_width", "drip_cap"),
    )
    states: ClassVar[tuple[Stated, ...]] = (stated,)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return the one drip cap."""
        return (Stick(self.stated, HEAD, geometry.unit_width_nm + NM_PER_INCH // 2),)


class Shims:
    """Pairs of shims under the sill and beside the jambs."""

    sill = Stated(
        part="shims",
        kind="piece",
        basis="max(2, ceil((unit_width - 8) / 15) + 1) points, 2 shims a point",
        grade="E",
        source="estimate: sill points 14 to 16 in apart",
        inputs=("unit_width", "shims"),
    )
    jamb = Stated(
        part="shims",
        kind="piece",
        basis="2 points, 3 where unit_height > 48; 2 shims a point",
        grade="E",
        source="estimate: near the ends and 20 to 24 in apart",
        inputs=("unit_height", "shims"),
    )
    states: ClassVar[tuple[Stated, ...]] = (sill, jamb)

    def wanted(self, terms: Terms) -> bool:
        """Return whether the company takes off shims."""
        return terms.specification.shims

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return jambs and sill; `count` is single shims."""
        under = max(2, -(-(geometry.unit_width_nm - SILL_SHIM_ENDS) // SILL_SHIM_SPACING) + 1)
        return _shims(under, 3 if geometry.unit_height_nm > TALL_JAMB else 2)


@lru_cache(maxsize=128)
def _shims(under: int, beside: int) -> tuple[Line, ...]:
    # few numbers of points, and they recur with every opening
    return (
        Piece(Shims.jamb, LEFT_JAMB, SHIMS_PER_POINT * beside, points=beside),
        Piece(Shims.jamb, RIGHT_JAMB, SHIMS_PER_POINT * beside, points=beside),
        Piece(Shims.sill, SILL, SHIMS_PER_POINT * under, points=under),
    )
