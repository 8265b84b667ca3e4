"""What a takeoff rule is: which terms want it, and the lines it brings for an opening's sizes. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Protocol

from openings.takeoff.demand import Line, Stated
from openings.takeoff.geometry import Geometry
from openings.takeoff.terms import Terms

HEAD = "head"
SILL = "sill"
LEFT_JAMB = "left jamb"
RIGHT_JAMB = "right jamb"
CORNER = "corner"
COMMON_PRACTICE = "common practice, no source"


class Rule(Protocol):
    """One geometry of the takeoff. `states` are all the things it may say of its lines."""

    states: ClassVar[tuple[Stated, ...]]

    def wanted(self, terms: Terms) -> bool:
        """Return whether openings under `terms` have this rule's lines at all."""
        ...

    def lines(self, geometry: Geometry, terms: Terms) -> Sequence[Line]:
        """Return the rule's lines for one opening, a line per side, in the order head, jambs, sill."""
        ...


class LayerRule:
    """A rule for one layer of the method: wanted where method and choices bring that layer."""

    layer: ClassVar[str]

    def wanted(self, terms: Terms) -> bool:
        """Return whether the method brings the layer under these choices."""
        return self.layer in terms.parts
