"""Every setting of the specification with its range, grade, source and meaning, in one table. Pure."""

from __future__ import annotations

from fractions import Fraction

from openings.methods.choices import CHOICE_VALUES
from openings.methods.method import Grade
from openings.takeoff.setting import Kind, Setting
from projects.quantities.length import Length

PRACTICE = "common practice, no source"
OWN = "the company's own default"
SHEETS = "the window maker's schedule"
Founded = tuple[Grade, str]
Range = tuple[str, str]


def _row(
    *named: str,
    kind: Kind = "length",
    within: Range | None = None,
    choices: tuple[str, ...] = (),
    founded: Founded = ("C", PRACTICE),
    field: str | None = None,
) -> Setting:
    """Return a row from its name, its label and its meaning."""
    name, label, meaning = named
    low, high = (Length.inches(Fraction(bound)) for bound in within) if within else (None, None)
    grade, source = founded
    return Setting(name, label, kind, grade, source, meaning, low, high, choices, field)


_BEAD: Range = ("0.0625", "1")
_SMALL: Range = ("0", "12")
_MEDIUM: Range = ("0", "24")
_WIDTH: Range = ("1", "36")
_SPACING: Range = ("1", "120")
_NINE: Founded = ("P", "Door-and-window installer association manual: flashing at least 9 in wide")

METHOD = (
    _row("method", "Method",
         "How the opening is made watertight where a row names no method.",
         kind="method", founded=("P", "Trade-journal two-part article on installing flanged windows")),
    _row("over_fin", "Over-fin detail",
         "What covers the side fins; left out, what the method brings. Holds only where a method allows it.",
         kind="choice", choices=CHOICE_VALUES["over_fin"]),
    _row("head_strip", "Head strip",
         "A strip over the head fin. Without it a named person and the maker's sheet stand behind it.",
         kind="yes or no", founded=("P", "EPA Indoor airPLUS 1.6; all four methods: ASTM E2112 from memory")),
    _row("fin", "Nail fin", "Fixed, or folding with a hinge line that takes a bead.",
         kind="choice", choices=CHOICE_VALUES["fin"], founded=("C", OWN)),
    _row("corners", "Fin corners", "Welded, or open: then a patch on all four.",
         kind="choice", choices=CHOICE_VALUES["corners"], founded=("C", OWN)),
    _row("pan", "Sill pan",
         "Membrane with pan corners, stretch membrane, one rigid piece, or none (then no weep gaps).",
         kind="choice", choices=CHOICE_VALUES["pan"], founded=("C", OWN)),
    _row("wall_depth", "Wall depth",
         "Depth of the rough sill: stud, sheathing and exterior foam. Taken as given.",
         within=("1", "24"), founded=("D", "5 1/2 stud + 7/16 sheathing")),
    _row("clearance", "Clearance", "RO less unit, both ways, where a row gives only one of them.",
         within=("0", "6"), founded=("P", "Makers' sheets, which disagree: 1/4 to 1/2 a side")),
    _row("call_size_is", "Call size means", "Whether 3050 is the unit or the rough opening.",
         kind="choice", choices=("unit", "ro"), founded=("C", OWN)),
)  # fmt: skip
MEMBRANE = (
    _row("sill_strip_width", "Sill strip width", "Width of the sill strip.", within=_WIDTH, founded=_NINE),
    _row("jamb_strip_width", "Jamb strip width", "Width of jamb strips and over-fin strips.",
         within=_WIDTH, founded=_NINE),
    _row("head_strip_width", "Head strip width", "Width of the head strip; the flap's cuts follow from it.",
         within=_WIDTH, founded=_NINE),
    _row("jamb_wrap", "Jamb wrap", "Width of jamb strip that turns into the opening.", within=("0", "36")),
    _row("head_extra", "Head strip past jamb strips", "How far the head strip runs past each jamb strip.",
         within=_SMALL, founded=("P", "AAMA 2400-10 Note 3 for 0; 1 in: ASTM E2112 from memory")),
    _row("stock_widths", "Stock widths", "Membrane widths that can be had.", kind="lengths",
         within=("1", "60"), founded=("P", "Association column 2019 for 4, 6, 9; 12: common practice")),
    _row("pan_upturn", "Pan upturn", "How far the pan goes up each jamb.", within=_MEDIUM,
         founded=("P", "Trade-journal photo guide: 12 in longer than the opening")),
    _row("pan_turn_down", "Pan turn-down", "How far the pan turns down over the sill strip.", within=_MEDIUM),
    _row("pan_back_dam", "Back dam", "Height of the dam at the pan's inner edge.", within=("0", "6")),
    _row("roll_length", "Roll length", "Length of a membrane roll; a bare number is inches.",
         within=("12", "12000")),
    _row("strip_trim", "Trim per strip", "Added to each strip when it is cut; counts in rolls only.",
         within=_MEDIUM),
    _row("shims", "Shims", "Whether shims are taken off.", kind="yes or no", founded=("E", "estimate")),
    _row("drip_cap", "Drip cap", "Whether the drawings ask for drip caps.", kind="yes or no"),
    _row("tape_width", "Flap tape width", "Width of the WRB tape on the flap's cuts.", within=("1", "12")),
)  # fmt: skip
SEALANT = (
    _row("hinge_bead", "Hinge bead", "Diameter of the bead in the hinge line.", within=_BEAD),
    _row("back_bead", "Back bead", "Diameter of the bead on the back of the fin; 3/8 to 5/8 are usual.",
         within=_BEAD),
    _row("face_bead", "Face bead", "Diameter of the bead over the fasteners, untooled.", within=_BEAD),
    _row("bead_offset", "Bead outside the frame", "How far out on the fin back and face bead run.",
         within=("0", "6")),
    _row("weep_gap", "Weep gap", "Left out of the sill's beads at each corner, so that the pan can drain.",
         within=_MEDIUM),
    _row("sealant_waste", "Sealant waste", "Added once per house or order, before cartridges are rounded up.",
         kind="fraction", founded=("C", "common practice: cartridges 0.15, sausages 0.10")),
    _row("cartridge_floz", "Cartridge", "What one cartridge or sausage holds.", kind="fluid ounces",
         field="cartridge"),
)  # fmt: skip
FASTENERS = (
    _row("fastener_corner", "Fastener to corner",
         "First and last fastener from the frame's corners; the maker's schedule overrules.",
         within=("0", "60")),
    _row("fastener_target", "Fastener target", "Spacing aimed at; never above the maximum.", within=_SPACING),
    _row("fastener_min", "Fastener minimum", "Closer is no use: said, never a reason to leave one out.",
         within=("0", "120")),
    _row("fastener_max", "Fastener maximum", "Widest spacing allowed.", within=_SPACING),
    _row("head_fasteners", "Head fasteners", "Whether the head fin is fastened, not at all, or loosely.",
         kind="choice", choices=("yes", "no", "loose"), founded=("C", SHEETS)),
    _row("sheathing", "Sheathing", "Thickness of the sheathing.", within=("0", "6")),
    _row("foam_thickness", "Exterior foam", "Thickness of foam outside the sheathing.", within=_MEDIUM,
         founded=("P", "Industry foam-sheathing page: flanged units up to 1 1/2 in")),
    _row("screw_lengths", "Screw lengths", "Lengths that can be had.", kind="lengths", within=("0.5", "12")),
)  # fmt: skip
INSIDE = (
    _row("air_seal", "Inside seal", "What closes the gap from inside.", kind="choice",
         choices=CHOICE_VALUES["air_seal"],
         founded=("P", "DOE Building America guide on air sealing rough openings")),
    _row("air_seal_depth", "Foam depth", "Depth of foam at head and jambs.", within=_SMALL),
    _row("air_seal_sill_depth", "Foam depth at the sill",
         "Depth of foam at the sill: at the inner edge only, never filling the pan.", within=_SMALL),
    _row("frame_share", "Frame share", "Added to the glass for a unit's weight.", kind="fraction",
         founded=("C", "common practice: frames add 20 to 40 % to the glass")),
)  # fmt: skip
GROUPS: tuple[tuple[str, tuple[Setting, ...]], ...] = (
    ("Method and window", METHOD),
    ("Membrane", MEMBRANE),
    ("Sealant", SEALANT),
    ("Fasteners", FASTENERS),
    ("Inside seal and weight", INSIDE),
)
