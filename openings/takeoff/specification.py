"""The specification: every choice and size that a company may set, with its default. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from projects.quantities.length import Length
from projects.quantities.volume import Volume


def _inches(value: str) -> Length:
    return Length.inches(Fraction(value))


@dataclass(frozen=True, slots=True)
class Specification:
    """A company's or project's settings. `over_fin` None means: what the method brings by itself.

    Defaults are those of the published interface; each one's grade and source stand in `settings.py`.
    """

    method: str = "B1"
    over_fin: str | None = None
    head_strip: bool = True
    fin: str = "fixed"
    corners: str = "welded"
    pan: str = "membrane"
    wall_depth: Length = _inches("5.9375")
    clearance: Length = _inches("0.5")
    call_size_is: str = "unit"
    sill_strip_width: Length = _inches("9")
    jamb_strip_width: Length = _inches("9")
    head_strip_width: Length = _inches("9")
    jamb_wrap: Length = _inches("0")
    head_extra: Length = _inches("0")
    stock_widths: tuple[Length, ...] = (_inches("4"), _inches("6"), _inches("9"), _inches("12"))
    pan_upturn: Length = _inches("6")
    pan_turn_down: Length = _inches("3")
    pan_back_dam: Length = _inches("0.75")
    roll_length: Length = _inches("900")
    strip_trim: Length = _inches("0")
    shims: bool = True
    drip_cap: bool = False
    tape_width: Length = _inches("3")
    hinge_bead: Length = _inches("0.25")
    back_bead: Length = _inches("0.5")
    face_bead: Length = _inches("0.5")
    bead_offset: Length = _inches("0")
    weep_gap: Length = _inches("3")
    sealant_waste: Fraction = Fraction(15, 100)
    cartridge: Volume = Volume.fluid_ounces(Fraction("10.1"))
    fastener_corner: Length = _inches("3")
    fastener_target: Length = _inches("12")
    fastener_min: Length = _inches("9")
    fastener_max: Length = _inches("18")
    head_fasteners: str = "yes"
    sheathing: Length = _inches("0.4375")
    foam_thickness: Length = _inches("0")
    screw_lengths: tuple[Length, ...] = (_inches("1.5"), _inches("2"), _inches("2.5"), _inches("3"))
    air_seal: str = "foam"
    air_seal_depth: Length = _inches("1.5")
    air_seal_sill_depth: Length = _inches("0.75")
    frame_share: Fraction = Fraction(30, 100)


DEFAULT = Specification()
