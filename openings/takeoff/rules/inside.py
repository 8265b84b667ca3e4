"""What closes the gap between unit and rough opening from inside: foam, or backer rod and a bead. Pure."""

from __future__ import annotations

from typing import ClassVar

from openings.takeoff.demand import Bead, Foam, Line, Rod, Section, Stated
from openings.takeoff.geometry import Geometry
from openings.takeoff.rules.rule import HEAD, LEFT_JAMB, RIGHT_JAMB, SILL, LayerRule
from openings.takeoff.section import volume_of_gap
from openings.takeoff.terms import Terms
from projects.quantities.length import NM_PER_INCH

ROD_SIZES = tuple(NM_PER_INCH * eighths // 8 for eighths in (2, 3, 4, 5, 6, 8))
SHALLOWEST = NM_PER_INCH // 4
DEEPEST = NM_PER_INCH // 2


class InsideFoam(LayerRule):
    """Foam on all four sides; on the sill at the inner edge only, so less deep. Corners are ignored."""

    layer = "inside seal"
    head = Stated(
        part="foam",
        kind="foam",
        basis="unit_width x (ro_height - unit_height) / 2 x air_seal_depth",
        grade="D",
        source="side x gap x depth, corners ignored",
        inputs=("unit_width", "ro_height", "unit_height", "air_seal_depth"),
    )
    jamb = Stated(
        part="foam",
        kind="foam",
        basis="unit_height x (ro_width - unit_width) / 2 x air_seal_depth",
        grade="D",
        source=head.source,
        inputs=("unit_height", "ro_width", "unit_width", "air_seal_depth"),
    )
    sill = Stated(
        part="foam",
        kind="foam",
        basis="unit_width x (ro_height - unit_height) / 2 x air_seal_sill_depth",
        grade="D",
        source=f"{head.source}; at the inner edge only, on the back dam",
        inputs=("unit_width", "ro_height", "unit_height", "air_seal_sill_depth"),
    )
    states: ClassVar[tuple[Stated, ...]] = (head, jamb, sill)

    def wanted(self, terms: Terms) -> bool:
        """Return whether foam was chosen."""
        return super().wanted(terms) and terms.choices.air_seal == "foam"

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return the four sides."""
        width_nm, height_nm = geometry.unit_width_nm, geometry.unit_height_nm
        above_nm, beside_nm = geometry.ro_height_nm - height_nm, geometry.ro_width_nm - width_nm
        depth_nm = terms.specification.air_seal_depth.nm
        sill_depth_nm = terms.specification.air_seal_sill_depth.nm
        jamb_pl = volume_of_gap(height_nm, beside_nm, depth_nm)
        return (
            Foam(self.head, HEAD, volume_of_gap(width_nm, above_nm, depth_nm)),
            Foam(self.jamb, LEFT_JAMB, jamb_pl),
            Foam(self.jamb, RIGHT_JAMB, jamb_pl),
            Foam(self.sill, SILL, volume_of_gap(width_nm, above_nm, sill_depth_nm)),
        )


class RodAndBead(LayerRule):
    """Backer rod a quarter thicker than the gap, and a bead half as deep as the gap is wide."""

    layer = "inside seal"
    rod_across = Stated(
        part="backer rod",
        kind="rod",
        basis="unit_width; (ro_height - unit_height) / 2 x 1.25, up to the next stock diameter",
        grade="C",
        source="common practice: closed-cell rod 25 % oversize",
        inputs=("unit_width", "ro_height", "unit_height", "air_seal"),
    )
    rod_along = Stated(
        part="backer rod",
        kind="rod",
        basis="unit_height; (ro_width - unit_width) / 2 x 1.25, up to the next stock diameter",
        grade="C",
        source=rod_across.source,
        inputs=("unit_height", "ro_width", "unit_width", "air_seal"),
    )
    bead_across = Stated(
        part="inside bead",
        kind="bead",
        basis="unit_width; gap (ro_height - unit_height) / 2 x half the gap, at least 1/4, at most 1/2",
        grade="P",
        source="Architectural detailing handbook page: joint depth half the width, 1/4 to 1/2",
        inputs=rod_across.inputs,
    )
    bead_along = Stated(
        part="inside bead",
        kind="bead",
        basis="unit_height; gap (ro_width - unit_width) / 2 x half the gap, at least 1/4, at most 1/2",
        grade="P",
        source=bead_across.source,
        inputs=rod_along.inputs,
    )
    states: ClassVar[tuple[Stated, ...]] = (rod_across, rod_along, bead_across, bead_along)

    def wanted(self, terms: Terms) -> bool:
        """Return whether rod and bead were chosen."""
        return super().wanted(terms) and terms.choices.air_seal == "rod and bead"

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return rod and bead of the four sides."""
        width_nm, height_nm = geometry.unit_width_nm, geometry.unit_height_nm
        above_nm, beside_nm = geometry.ro_height_nm - height_nm, geometry.ro_width_nm - width_nm
        sides = (
            (HEAD, self.rod_across, self.bead_across, width_nm, above_nm),
            (LEFT_JAMB, self.rod_along, self.bead_along, height_nm, beside_nm),
            (RIGHT_JAMB, self.rod_along, self.bead_along, height_nm, beside_nm),
            (SILL, self.rod_across, self.bead_across, width_nm, above_nm),
        )
        rods: list[Line] = []
        beads: list[Line] = []
        for zone, rod, bead, side_nm, both_gaps_nm in sides:
            rods.append(Rod(rod, zone, side_nm, rod_size(both_gaps_nm)))
            beads.append(Bead(bead, zone, side_nm, Section(joint_section(both_gaps_nm))))
        return (*rods, *beads)


def rod_needed(both_gaps_nm: int) -> int:
    """Return the least rod diameter in nanometres: the gap x 1.25, rounded up. Source: common practice."""
    return -(-both_gaps_nm * 5 // 8)


def rod_size(both_gaps_nm: int) -> int | None:
    """Return the stock rod's diameter in nanometres, None where the gap is too wide for any."""
    needed_nm = rod_needed(both_gaps_nm)
    return next((size for size in ROD_SIZES if size >= needed_nm), None)


def joint_section(both_gaps_nm: int) -> int:
    """Return gap x depth in nm2: depth half the gap, at least 1/4, at most 1/2 in.

    Source: architectural detailing handbook page (P).
    """
    quarter_of_both_nm = both_gaps_nm // 4
    depth_nm = min(max(quarter_of_both_nm, SHALLOWEST), DEEPEST)
    return both_gaps_nm * depth_nm // 2
