"""How many screws each side of the fin takes, and where they stand. Pure."""

from __future__ import annotations

from typing import ClassVar

from openings.takeoff.demand import Fasteners, Line, Stated
from openings.takeoff.geometry import Geometry
from openings.takeoff.rules.rule import HEAD, LEFT_JAMB, RIGHT_JAMB, SILL, LayerRule
from openings.takeoff.terms import Terms
from projects.quantities.length import NM_PER_INCH

SHORTEST_SPAN = 3 * NM_PER_INCH


class FinFasteners(LayerRule):
    """Equal spaces of at most the target between the two corner distances; all four fins."""

    layer = "fasteners"
    across = Stated(
        part="fasteners",
        kind="fasteners",
        basis="span = unit_width - 2 x fastener_corner; ceil(span / target) spaces; under 3 one",
        grade="C",
        source="common practice, no source; the window maker's schedule overrules it",
        inputs=("unit_width", "fastener_corner", "fastener_target", "fastener_max", "fastener_min"),
    )
    along = Stated(
        part="fasteners",
        kind="fasteners",
        basis="span = unit_height - 2 x fastener_corner; ceil(span / target) spaces; under 3 one",
        grade="C",
        source=across.source,
        inputs=("unit_height", *across.inputs[1:]),
    )
    head = Stated(
        part="fasteners",
        kind="fasteners",
        basis=across.basis,
        grade="C",
        source=across.source,
        inputs=(*across.inputs, "head_fasteners"),
    )
    states: ClassVar[tuple[Stated, ...]] = (across, along, head)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return a line per side; none at the head where the maker wants none there."""
        width_nm, height_nm = geometry.unit_width_nm, geometry.unit_height_nm
        corner_nm, screw_nm = terms.corner_nm, terms.screw_nm
        across, along = spaces_on(width_nm, terms), spaces_on(height_nm, terms)
        lines: tuple[Line, ...] = (
            Fasteners(self.along, LEFT_JAMB, height_nm, corner_nm, along, screw_nm),
            Fasteners(self.along, RIGHT_JAMB, height_nm, corner_nm, along, screw_nm),
            Fasteners(self.across, SILL, width_nm, corner_nm, across, screw_nm),
        )
        if terms.head_fasteners == "no":
            return lines
        return (Fasteners(self.head, HEAD, width_nm, corner_nm, across, screw_nm), *lines)


def spaces_on(side_nm: int, terms: Terms) -> int:
    """Return how many equal spaces a side has; 0 where the span is below 3 in."""
    span_nm = side_nm - 2 * terms.corner_nm
    return 0 if span_nm < SHORTEST_SPAN else -(-span_nm // terms.target_nm)
