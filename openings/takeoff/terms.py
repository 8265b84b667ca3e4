"""Under which terms openings are taken off: specification, row overrides and method, settled once. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from openings.methods.choices import Choices
from openings.methods.method import Method
from openings.takeoff.demand import Section
from openings.takeoff.geometry import OVERRIDES_FROM, Geometry
from openings.takeoff.section import diagonal_of_square
from openings.takeoff.specification import Specification
from projects.errors import BadValue
from projects.quantities.length import Length
from projects.quantities.text import format_length
from projects.quantities.volume import Area

FIN = Length.inches(1).nm // 8
STRIPS_AND_WRB = Length.inches(1).nm // 16
PENETRATION = Length.inches(5).nm // 4
TAPE_PAST_CUT = Length.inches(6).nm


class RowRefused(BadValue):
    """A row that can't be taken off; `column` names the schedule's column that is to blame."""

    def __init__(self, *, column: str, problem: str, remedy: str, value: object = None) -> None:
        """Keep the column beside problem and remedy."""
        super().__init__(problem=problem, remedy=remedy, value=value)
        self.column = column


@dataclass(frozen=True, slots=True)
class Terms:
    """Everything that holds for an opening besides its sizes. Lengths in nanometres.

    `weep_nm` is 0 where there is no pan; `least_spacing_nm` is 0 where the maker's maximum rules;
    `screw_nm` is None where no stock screw reaches.
    """

    specification: Specification
    method: Method
    choices: Choices
    parts: frozenset[str]
    sill_strip_nm: int
    jamb_strip_nm: int
    jamb_face_nm: int
    head_strip_nm: int
    head_extra_nm: int
    pan_width_nm: int
    wall_depth_nm: int
    tape_length_nm: int
    hinge_section: Section
    back_section: Section
    face_section: Section
    bead_offset_nm: int
    weep_nm: int
    corner_nm: int
    target_nm: int
    least_spacing_nm: int
    head_fasteners: str
    screw_needed_nm: int
    screw_nm: int | None

    @property
    def has_pan(self) -> bool:
        """Return whether there is a pan, so that the sill has weep gaps."""
        return self.choices.pan != "none"


def choices_of(geometry: Geometry, specification: Specification, method: Method) -> Choices:
    """Return the opening's choices: the row's, else the specification's, else the method's own.

    The specification's over-fin detail holds only for methods that can have it; the row's is refused there.
    Raises RowRefused where the method cannot have the row's over-fin detail.
    """
    over_fin = geometry.over_fin
    if over_fin is None and specification.over_fin in method.over_fin_allowed:
        over_fin = specification.over_fin
    _refuse_over_fin(over_fin, method)
    return method.choices(
        over_fin=over_fin,
        pan=geometry.pan or specification.pan,
        head_strip=specification.head_strip,
        fin=geometry.fin or specification.fin,
        corners=geometry.corners or specification.corners,
        drip_cap=specification.drip_cap,
        air_seal=specification.air_seal,
    )


def settle_terms(geometry: Geometry, specification: Specification, method: Method) -> Terms:
    """Return the terms of openings with the overrides of `geometry`.

    Raises RowRefused where choices contradict each other or no stock width covers the rough sill.
    """
    choices = choices_of(geometry, specification, method)
    wall_depth_nm = _or(geometry.wall_depth_nm, specification.wall_depth)
    target_nm, least_nm = _spacing(geometry, specification)
    screw_needed_nm = screw_needed(specification)
    return Terms(
        specification=specification,
        method=method,
        choices=choices,
        parts=frozenset(layer.name for layer in method.layers_for(choices)),
        sill_strip_nm=specification.sill_strip_width.nm,
        jamb_strip_nm=specification.jamb_strip_width.nm,
        jamb_face_nm=jamb_face(specification).nm,
        head_strip_nm=specification.head_strip_width.nm,
        head_extra_nm=specification.head_extra.nm,
        pan_width_nm=_pan_width(choices, specification, wall_depth_nm),
        wall_depth_nm=wall_depth_nm,
        tape_length_nm=TAPE_PAST_CUT
        + diagonal_of_square(specification.head_strip_width.nm + specification.head_extra.nm),
        hinge_section=round_section(specification.hinge_bead),
        back_section=round_section(specification.back_bead),
        face_section=round_section(specification.face_bead),
        bead_offset_nm=specification.bead_offset.nm,
        weep_nm=0 if choices.pan == "none" else specification.weep_gap.nm,
        corner_nm=_or(geometry.fastener_corner_nm, specification.fastener_corner),
        target_nm=target_nm,
        least_spacing_nm=least_nm,
        head_fasteners=geometry.head_fasteners or specification.head_fasteners,
        screw_needed_nm=screw_needed_nm,
        screw_nm=next_stock(screw_needed_nm, specification.screw_lengths),
    )


def overrides_of(geometry: Geometry) -> tuple[object, ...]:
    """Return what, beside sizes and mulls, tells the terms of two geometries apart."""
    return geometry[OVERRIDES_FROM:]


def round_section(diameter: Length) -> Section:
    """Return the section of a round bead."""
    return Section(Area.circle(diameter).nm2, diameter.nm)


def jamb_face(specification: Specification) -> Length:
    """Return how far a jamb strip lies on the wall beside the rough opening."""
    return specification.jamb_strip_width - specification.jamb_wrap


def screw_needed(specification: Specification) -> int:
    """Return the least screw length in nanometres: fin, strips and WRB, sheathing, foam, penetration.

    Source: 1/8 + 1/16 + 1 1/4 beside the wall's own layers, an estimate (E).
    """
    wall = specification.sheathing.nm + specification.foam_thickness.nm
    return FIN + STRIPS_AND_WRB + wall + PENETRATION


def next_stock(needed_nm: int, stock: tuple[Length, ...]) -> int | None:
    """Return the smallest of `stock` that is at least `needed_nm`, None where none is."""
    return min((size.nm for size in stock if size.nm >= needed_nm), default=None)


def _refuse_over_fin(over_fin: str | None, method: Method) -> None:
    if over_fin is None:
        return
    try:
        method.refuse_over_fin(over_fin)
    except BadValue as error:
        raise RowRefused(
            column="over_fin", problem=error.problem, remedy=error.remedy, value=over_fin
        ) from None


def _or(override_nm: int | None, default: Length) -> int:
    return default.nm if override_nm is None else override_nm


def _spacing(geometry: Geometry, specification: Specification) -> tuple[int, int]:
    most_nm, least_nm = specification.fastener_max.nm, specification.fastener_min.nm
    if geometry.fastener_max_nm is not None:
        most_nm, least_nm = min(most_nm, geometry.fastener_max_nm), 0
    return min(specification.fastener_target.nm, most_nm), least_nm


def _pan_width(choices: Choices, specification: Specification, wall_depth_nm: int) -> int:
    if choices.pan not in ("membrane", "stretch"):
        return 0
    needed_nm = wall_depth_nm + specification.pan_back_dam.nm + specification.pan_turn_down.nm
    width_nm = next_stock(needed_nm, specification.stock_widths)
    if width_nm is None:
        widest = max(specification.stock_widths)
        raise RowRefused(
            column="pan",
            problem=f"The pan needs membrane {format_length(Length(needed_nm))} wide; "
            f"the widest in stock is {format_length(widest)}.",
            remedy="Use a rigid pan (pan: rigid), or add a wider stock width.",
            value=choices.pan,
        )
    return width_nm
