"""How long the beads of sealant around the fin are. Pure."""

from __future__ import annotations

from typing import ClassVar

from openings.takeoff.demand import Bead, Line, Stated
from openings.takeoff.geometry import Geometry
from openings.takeoff.rules.rule import COMMON_PRACTICE, HEAD, LEFT_JAMB, RIGHT_JAMB, SILL, LayerRule
from openings.takeoff.terms import Terms


def _stated(part: str, length: str, *inputs: str) -> Stated:
    diameter = part.replace(" ", "_")
    return Stated(
        part=part,
        kind="bead",
        basis=f"{length}; section pi / 4 x {diameter}^2",
        grade="C",
        source=COMMON_PRACTICE,
        inputs=(*inputs, diameter),
    )


class HingeBead(LayerRule):
    """The thin bead in the hinge line of a folding fin: the unit's four sides, no offset, no gaps."""

    layer = "hinge bead"
    across = _stated("hinge bead", "unit_width", "unit_width", "fin")
    along = _stated("hinge bead", "unit_height", "unit_height", "fin")
    states: ClassVar[tuple[Stated, ...]] = (across, along)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return the four sides."""
        width_nm, height_nm = geometry.unit_width_nm, geometry.unit_height_nm
        section = terms.hinge_section
        return (
            Bead(self.across, HEAD, width_nm, section),
            Bead(self.along, LEFT_JAMB, height_nm, section),
            Bead(self.along, RIGHT_JAMB, height_nm, section),
            Bead(self.across, SILL, width_nm, section),
        )


class BackBead(LayerRule):
    """The bead on the back of the fin: head and jambs whole, the sill without the weep gaps."""

    layer = "back bead"
    across = _stated("back bead", "unit_width + 2 x bead_offset", "unit_width", "bead_offset")
    along = _stated("back bead", "unit_height + 2 x bead_offset", "unit_height", "bead_offset")
    gapped = _stated("back bead", "unit_width - 2 x weep_gap", "unit_width", "weep_gap", "pan")
    states: ClassVar[tuple[Stated, ...]] = (across, along, gapped)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return the four sides."""
        jamb_nm = geometry.unit_height_nm + 2 * terms.bead_offset_nm
        section = terms.back_section
        return (
            Bead(self.across, HEAD, geometry.unit_width_nm + 2 * terms.bead_offset_nm, section),
            Bead(self.along, LEFT_JAMB, jamb_nm, section),
            Bead(self.along, RIGHT_JAMB, jamb_nm, section),
            Bead(
                self.gapped if terms.has_pan else self.across,
                SILL,
                sill_bead_length(geometry, terms),
                section,
            ),
        )


class FaceBead(LayerRule):
    """The tooled bead over the fasteners: at the head only where no head strip needs a bare fin."""

    layer = "face bead"
    head = _stated(
        "face bead",
        "unit_width + 2 x bead_offset, where no head strip lies",
        "unit_width",
        "bead_offset",
        "head_strip",
        "over_fin",
    )
    jamb = _stated("face bead", "unit_height + 2 x bead_offset", "unit_height", "bead_offset", "over_fin")
    sill = _stated("face bead", "unit_width + 2 x bead_offset", "unit_width", "bead_offset", "over_fin")
    gapped = _stated("face bead", "unit_width - 2 x weep_gap", "unit_width", "weep_gap", "pan", "over_fin")
    states: ClassVar[tuple[Stated, ...]] = (head, jamb, sill, gapped)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return jambs and sill, and the head where it has no strip."""
        jamb_nm = geometry.unit_height_nm + 2 * terms.bead_offset_nm
        section = terms.face_section
        lines: tuple[Line, ...] = (
            Bead(self.jamb, LEFT_JAMB, jamb_nm, section),
            Bead(self.jamb, RIGHT_JAMB, jamb_nm, section),
            Bead(
                self.gapped if terms.has_pan else self.sill, SILL, sill_bead_length(geometry, terms), section
            ),
        )
        if "head strip" in terms.parts:
            return lines
        return (Bead(self.head, HEAD, geometry.unit_width_nm + 2 * terms.bead_offset_nm, section), *lines)


def sill_bead_length(geometry: Geometry, terms: Terms) -> int:
    """Return the sill bead in nanometres: between the weep gaps where there is a pan, never below 0."""
    if terms.has_pan:
        return max(0, geometry.unit_width_nm - 2 * terms.weep_nm)
    return geometry.unit_width_nm + 2 * terms.bead_offset_nm
