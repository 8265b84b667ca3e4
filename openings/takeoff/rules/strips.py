"""How long the strips of flashing membrane and the flap tapes are. Pure."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from openings.takeoff.demand import Line, Piece, Stated, Strip, Tape
from openings.takeoff.geometry import Geometry
from openings.takeoff.rules.rule import (
    COMMON_PRACTICE,
    CORNER,
    HEAD,
    LEFT_JAMB,
    RIGHT_JAMB,
    SILL,
    LayerRule,
)
from openings.takeoff.terms import Terms
from projects.quantities.length import NM_PER_INCH

SHORT_OF_EDGE = NM_PER_INCH // 2
LENGTH_OF_JAMB_STRIP = (
    "ro_height + (head_strip_width - 1/2) + (sill_strip_width - 1/2)",
    ("ro_height", "head_strip_width", "sill_strip_width", "jamb_strip_width"),
)


class SillStrip(LayerRule):
    """Membrane on the wall face below the sill, out to the jamb strips' outer edges."""

    layer = "sill strip"
    stated = Stated(
        part="sill strip",
        kind="strip",
        basis="ro_width + 2 x (jamb_strip_width - jamb_wrap)",
        grade="P",
        source="AAMA 2400-10, 5.7.3.2 and Note 3",
        inputs=("ro_width", "jamb_strip_width", "jamb_wrap", "sill_strip_width"),
    )
    states: ClassVar[tuple[Stated, ...]] = (stated,)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return the one sill strip."""
        length_nm = geometry.ro_width_nm + 2 * terms.jamb_face_nm
        return (Strip(self.stated, SILL, length_nm, terms.sill_strip_nm),)


class Pan(LayerRule):
    """The pan over the rough sill: a strip of the smallest stock width that covers it, or a rigid piece."""

    layer = "pan"
    stated = Stated(
        part="pan",
        kind="strip",
        basis="ro_width + 2 x pan_upturn; smallest of stock_widths >= "
        "wall_depth + pan_back_dam + pan_turn_down",
        grade="P",
        source="Trade-journal photo guide, Flashing a Window: New Construction (12 in longer than the "
        "opening); width: common practice, no source",
        inputs=("ro_width", "pan_upturn", "wall_depth", "pan_back_dam", "pan_turn_down", "stock_widths"),
    )
    stretch = replace(stated, bought_as="stretch pan")
    rigid = Stated(
        part="pan",
        kind="piece",
        basis="one rigid pan, ro_width wide and wall_depth deep",
        grade="C",
        source=COMMON_PRACTICE,
        inputs=("pan", "ro_width", "wall_depth"),
    )
    states: ClassVar[tuple[Stated, ...]] = (stated, stretch, rigid)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return the one pan; it is never spliced."""
        if terms.choices.pan == "rigid":
            return (Piece(self.rigid, SILL, 1, geometry.ro_width_nm, terms.wall_depth_nm),)
        length_nm = geometry.ro_width_nm + 2 * terms.specification.pan_upturn.nm
        stated = self.stretch if terms.choices.pan == "stretch" else self.stated
        return (Strip(stated, SILL, length_nm, terms.pan_width_nm),)


class PanCorner(LayerRule):
    """The patch in each lower corner of a pan that cannot stretch: without it there is a pinhole."""

    layer = "pan corner"
    stated = Stated(
        part="pan corner",
        kind="piece",
        basis="2 where the pan is plain membrane",
        grade="C",
        source=COMMON_PRACTICE,
        inputs=("pan",),
    )
    both = (Piece(stated, CORNER, 2),)
    states: ClassVar[tuple[Stated, ...]] = (stated,)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return the two pan corners."""
        return self.both


class JambStrip(LayerRule):
    """A strip on each jamb, from short of the sill strip's lower edge to short of the head strip's upper."""

    layer = "jamb strip"
    stated = Stated(
        part="jamb strip",
        kind="strip",
        basis=LENGTH_OF_JAMB_STRIP[0],
        grade="M",
        source="AAMA 2400 / ASTM E2112, from memory",
        inputs=LENGTH_OF_JAMB_STRIP[1],
    )
    states: ClassVar[tuple[Stated, ...]] = (stated,)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return the left and the right jamb strip."""
        return _jamb_strips(self.stated, geometry, terms)


class OverFinStrip(LayerRule):
    """A second strip on each jamb, over the side fin, where the first lies behind it."""

    layer = "over-fin strip"
    stated = Stated(
        part="over-fin strip",
        kind="strip",
        basis=LENGTH_OF_JAMB_STRIP[0],
        grade="C",
        source=COMMON_PRACTICE,
        inputs=(*LENGTH_OF_JAMB_STRIP[1], "over_fin"),
    )
    states: ClassVar[tuple[Stated, ...]] = (stated,)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return the left and the right over-fin strip, as long and wide as the jamb strips."""
        return _jamb_strips(self.stated, geometry, terms)


class HeadStrip(LayerRule):
    """The strip over the head fin, over both jamb strips and as far past them as the company asks."""

    layer = "head strip"
    even = Stated(
        part="head strip",
        kind="strip",
        basis="ro_width + 2 x (jamb_strip_width - jamb_wrap) + 2 x head_extra",
        grade="P",
        source="AAMA 2400-10, Note 3: even with the jamb strips' outer edges",
        inputs=("ro_width", "jamb_strip_width", "jamb_wrap", "head_extra", "head_strip_width"),
    )
    past = Stated(
        part="head strip",
        kind="strip",
        basis=even.basis,
        grade="M",
        source="ASTM E2112, from memory: past each jamb strip",
        inputs=even.inputs,
    )
    states: ClassVar[tuple[Stated, ...]] = (even, past)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return the one head strip."""
        length_nm = geometry.ro_width_nm + 2 * terms.jamb_face_nm + 2 * terms.head_extra_nm
        return (Strip(self.past if terms.head_extra_nm else self.even, HEAD, length_nm, terms.head_strip_nm),)


class FlapTape(LayerRule):
    """A WRB tape over each diagonal cut of the head flap, where the WRB is on before the window."""

    layer = "flap tape"
    stated = Stated(
        part="flap tape",
        kind="tape",
        basis="sqrt(2) x (head_strip_width + head_extra) + 6",
        grade="C",
        source="cut: arithmetic, the head strip's ends lie under the flap; + 6: common practice, no source",
        inputs=("head_strip_width", "head_extra", "tape_width"),
    )
    states: ClassVar[tuple[Stated, ...]] = (stated,)

    def lines(self, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
        """Return the two tapes as one line."""
        return (Tape(self.stated, HEAD, terms.tape_length_nm, terms.specification.tape_width.nm, 2),)


def _jamb_strips(stated: Stated, geometry: Geometry, terms: Terms) -> tuple[Line, ...]:
    length_nm = geometry.ro_height_nm + terms.head_strip_nm + terms.sill_strip_nm - 2 * SHORT_OF_EDGE
    return (
        Strip(stated, LEFT_JAMB, length_nm, terms.jamb_strip_nm),
        Strip(stated, RIGHT_JAMB, length_nm, terms.jamb_strip_nm),
    )
