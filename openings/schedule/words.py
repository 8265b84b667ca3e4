"""The names builders give to columns and the words they write in them, as far as they are known. Pure."""

from __future__ import annotations

from collections.abc import Mapping

MARK, COUNT, ELEVATION = "mark", "count", "elevation"
UNIT_WIDTH, UNIT_HEIGHT, UNIT_SIZE = "unit_width", "unit_height", "unit_size"
RO_WIDTH, RO_HEIGHT, RO_SIZE = "ro_width", "ro_height", "ro_size"
SIZE = "size"
KIND = "kind"  # the builder's own type column: never read, only looked at for doors and arches

COLUMNS = (
    ELEVATION, MARK, UNIT_WIDTH, UNIT_HEIGHT, UNIT_SIZE, RO_SIZE, SIZE, RO_WIDTH, RO_HEIGHT, COUNT,
    "fin", "shape", "corners", "method", "over_fin", "pan", "wall_depth", "sill_height", "head_height",
    "offset", "mulls", "weight_lb", "glass", "fastener_corner", "fastener_max", "head_fasteners", "flags",
    "note",
)  # fmt: skip
PAIRS = frozenset({UNIT_SIZE, RO_SIZE})
LENGTHS = frozenset(
    {
        UNIT_WIDTH, UNIT_HEIGHT, UNIT_SIZE, RO_SIZE, SIZE, RO_WIDTH, RO_HEIGHT, "wall_depth", "sill_height",
        "head_height", "offset", "fastener_corner", "fastener_max",
    }
)  # fmt: skip
IGNORED = frozenset({"", "ignore", "none"})

# as `headers.plain` leaves them: lower case, initials joined, no points, `#` as no, W x H as wxh
_STRONG: Mapping[str, tuple[str, ...]] = {
    MARK: (
        "tag", "window", "window mark", "window tag", "window no", "window number", "window id",
        "win no", "unit mark", "unit tag", "unit no", "unit id", "opening", "opening mark",
        "opening no", "opening number", "opening id", "opening tag", "type mark", "plan mark",
        "mark no", "tag no", "mk",
    ),
    COUNT: (
        "qty", "qnty", "quantity", "pcs", "pc", "pieces", "units", "ea", "each", "no of", "no of units",
        "no of windows", "number of", "number of units", "number of windows", "no reqd", "no required",
        "nos", "total qty", "qty reqd", "how many",
    ),
    ELEVATION: ("elev", "side", "face", "facade", "orientation", "elevation name", "side of house"),
    UNIT_WIDTH: (
        "unit w", "frame width", "frame w", "window width", "window w", "net width", "net frame width",
        "unit size width", "unit size w", "frame size width", "frame size w", "actual width",
        "overall width", "frame size wide", "width of unit", "width of frame", "width unit",
        "width frame", "width of window",
    ),
    UNIT_HEIGHT: (
        "unit h", "frame height", "frame h", "window height", "window h", "net height",
        "net frame height", "unit size height", "unit size h", "frame size height", "frame size h",
        "actual height", "overall height", "frame size high", "height of unit", "height of frame",
        "height unit", "height frame", "height of window",
    ),
    UNIT_SIZE: (
        "unit wxh", "frame", "frame size", "frame wxh", "frame size wxh", "unit size wxh", "net frame",
        "net frame size", "unit dimensions", "frame dimensions", "window wxh", "window size wxh",
        "overall size", "overall size wxh", "actual size",
    ),
    RO_WIDTH: (
        "ro w", "rough opening width", "rough opening w", "rough width", "rough open width", "width ro",
        "w ro", "width of ro", "ro size width", "ro size w", "rough opening size width",
        "width rough opening",
    ),
    RO_HEIGHT: (
        "ro h", "rough opening height", "rough opening h", "rough height", "rough open height",
        "height ro", "h ro", "height of ro", "ro size height", "ro size h", "rough opening size height",
        "height rough opening",
    ),
    RO_SIZE: (
        "ro", "ro wxh", "ro size wxh", "rough opening", "rough openings", "rough opening size",
        "rough opening wxh", "rough opening size wxh", "rough open", "rough size",
        "rough opening dimensions", "ro dimensions",
    ),
    SIZE: (
        "call size", "callsize", "call out size", "callout", "call out", "nominal size", "nominal",
        "window size",
    ),
    "fin": (
        "nail fin", "nailing fin", "fin type", "nail flange", "nailing flange", "mounting fin",
        "mounting flange", "flange", "flange type",
    ),
    "shape": ("window shape", "unit shape"),
    "corners": ("fin corners", "fin corner", "flange corners", "corner type", "corner"),
    "method": ("installation method", "install method", "flashing method"),
    "over_fin": ("over fin detail", "over the fin", "overfin"),
    "pan": ("sill pan", "pan flashing", "pan type", "sill pan type"),
    "wall_depth": ("wall thickness", "depth of wall", "rough sill depth"),
    "sill_height": ("sill ht", "sill hgt", "sill h", "sill", "height of sill"),
    "head_height": (
        "head ht", "head hgt", "head h", "head", "hd ht", "header height", "header ht",
        "height of head",
    ),
    "offset": ("offset from left", "from left", "distance from left", "left offset"),
    "mulls": ("mull", "mull joints", "factory mulls", "no of mulls", "number of mulls"),
    "weight_lb": (
        "weight", "weight lbs", "weight lb", "wt", "wt lb", "wt lbs", "unit weight", "unit wt",
    ),
    "glass": ("glass panes", "panes"),
    "fastener_corner": ("fastener corner distance", "corner distance", "first fastener"),
    "fastener_max": (
        "max fastener spacing", "maximum fastener spacing", "makers max fastener spacing",
        "makers max spacing", "makers maximum fastener spacing", "fastener spacing",
        "fastener spacing max", "max spacing", "fastener max spacing",
    ),
    "head_fasteners": ("head fastening", "fasteners at head", "fasten head"),
    "flags": ("flag",),
    "note": ("notes", "remark", "remarks", "comment", "comments"),
    KIND: ("type", "window type", "unit type", "style", "operation", "category", "product"),
}  # fmt: skip
# names that another column of the file may say better
_WEAK: Mapping[str, tuple[str, ...]] = {
    MARK: (
        "no", "number", "id", "item", "item no", "ref", "ref no", "reference", "label", "key", "symbol",
        "sym", "name", "line", "line no", "pos", "position",
    ),
    ELEVATION: ("location", "loc", "wall"),
    UNIT_WIDTH: ("width", "w", "wide"),
    UNIT_HEIGHT: ("height", "h", "ht", "hgt", "high"),
    UNIT_SIZE: ("wxh", "size wxh", "dimensions", "dimensions wxh"),
}  # fmt: skip

OWN, STRONG, WEAK = 1, 2, 3
HEADERS: Mapping[str, tuple[str, int]] = {
    **{name: (column, WEAK) for column, names in _WEAK.items() for name in names},
    **{name: (column, STRONG) for column, names in _STRONG.items() for name in names},
    **{column.replace("_", " "): (column, OWN) for column in COLUMNS},
}
UNITS: Mapping[str, str] = {
    "in": "in", "ins": "in", "inch": "in", "inches": "in",
    "mm": "mm", "millimetres": "mm", "millimeters": "mm",
    "cm": "cm", "centimetres": "cm", "centimeters": "cm", "m": "m", "metres": "m", "meters": "m",
    "ft": "ft", "feet": "ft", "lb": "lb", "lbs": "lb", "pounds": "lb", "kg": "kg", "kgs": "kg",
}  # fmt: skip

FINS = {"fixed": "fixed", "integral": "fixed", "rigid": "fixed", "folding": "folding", "fold": "folding",
        "hinged": "folding", "foldable": "folding"}  # fmt: skip
CORNERS = {"welded": "welded", "weld": "welded", "fused": "welded", "open": "open", "unwelded": "open"}
OVER_FINS = {name: name for name in ("none", "membrane", "sealed")}
PANS = {"membrane": "membrane", "stretch": "stretch", "rigid": "rigid", "none": "none", "no": "none"}
HEAD_FASTENERS = {"yes": "yes", "y": "yes", "true": "yes", "no": "no", "n": "no", "none": "no", "false": "no",
                  "loose": "loose"}  # fmt: skip
RECTANGLES = frozenset({"rectangle", "rectangular", "rect", "square"})
NO_FIN = frozenset(
    {"none", "no", "n", "no fin", "without", "finless", "block frame", "flush", "n/a", "na", "false"}
)
SOME_FIN = frozenset({"yes", "y", "true", "x", "✓"})
