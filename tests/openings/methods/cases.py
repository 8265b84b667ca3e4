"""The field guide's lap table, written out by hand, row by row: read from no method file."""

from __future__ import annotations

from itertools import product

ALL = ("A", "A1", "B", "B1")
OVER = ("A", "A1")
BEHIND = ("B", "B1")
WRB_AFTER = ("A", "B")
WRB_BEFORE = ("A1", "B1")

# over, under, the methods, and the choices that the row asks for ("where drawn", "open corners", ...)
TABLE = [
    ("pan", "sill strip", ALL, {"pan": ("membrane", "stretch", "rigid")}),
    ("pan corner", "pan", ALL, {"pan": ("membrane",)}),
    ("unit", "pan", ALL, {"pan": ("membrane", "stretch", "rigid")}),
    ("unit", "pan corner", ALL, {"pan": ("membrane",)}),
    ("unit", "sill strip", ALL, {"pan": ("none",)}),
    ("jamb strip", "sill strip", ALL, {}),
    ("jamb strip", "pan", BEHIND, {"pan": ("membrane", "stretch", "rigid")}),
    ("jamb strip", "pan corner", BEHIND, {"pan": ("membrane",)}),
    ("unit", "jamb strip", BEHIND, {}),
    ("jamb strip", "unit", OVER, {}),
    ("corner patch", "unit", ALL, {"corners": ("open",)}),
    ("jamb strip", "corner patch", OVER, {"corners": ("open",)}),
    ("over-fin strip", "corner patch", BEHIND, {"corners": ("open",), "over_fin": ("membrane",)}),
    ("over-fin strip", "unit", BEHIND, {"over_fin": ("membrane",)}),
    ("drip cap", "unit", ALL, {"drip_cap": (True,)}),
    ("drip cap", "corner patch", ALL, {"drip_cap": (True,), "corners": ("open",)}),
    ("head strip", "unit", ALL, {"head_strip": (True,)}),
    ("head strip", "jamb strip", ALL, {"head_strip": (True,)}),
    ("head strip", "over-fin strip", BEHIND, {"head_strip": (True,), "over_fin": ("membrane",)}),
    ("head strip", "drip cap", ALL, {"head_strip": (True,), "drip_cap": (True,)}),
    ("sill strip", "wrb", WRB_BEFORE, {}),
    ("jamb strip", "wrb", WRB_BEFORE, {}),
    ("head flap", "head strip", WRB_BEFORE, {"head_strip": (True,)}),
    ("head flap", "unit", WRB_BEFORE, {"head_strip": (False,)}),
    ("head flap", "drip cap", WRB_BEFORE, {"drip_cap": (True,)}),
    ("flap tape", "head flap", WRB_BEFORE, {}),
    ("wrb beside", "jamb strip", WRB_AFTER, {}),
    ("wrb beside", "wrb below", WRB_AFTER, {}),
    ("wrb above", "head strip", WRB_AFTER, {"head_strip": (True,)}),
    ("wrb above", "unit", WRB_AFTER, {"head_strip": (False,)}),
    ("wrb above", "drip cap", WRB_AFTER, {"drip_cap": (True,)}),
    ("wrb above", "wrb beside", WRB_AFTER, {}),
]

# "Not laps, but order": first, then, the methods, the choices
ORDER = [
    ("hinge bead", "unit", ALL, {"fin": ("folding",)}),
    ("back bead", "unit", ALL, {}),
    ("hinge bead", "back bead", ALL, {"fin": ("folding",)}),
    ("unit", "fasteners", ALL, {}),
    ("unit", "inside seal", ALL, {}),
    ("fasteners", "inside seal", ALL, {}),
    ("fasteners", "corner patch", ALL, {"corners": ("open",)}),
    ("fasteners", "jamb strip", OVER, {}),
    ("fasteners", "over-fin strip", BEHIND, {"over_fin": ("membrane",)}),
    ("fasteners", "head strip", ALL, {"head_strip": (True,)}),
    ("fasteners", "face bead", BEHIND, {"over_fin": ("sealed",)}),
    ("corner patch", "face bead", BEHIND, {"over_fin": ("sealed",), "corners": ("open",)}),
]

# what each method needs, and the choices that bring it ("A drip cap is never missing")
NEEDED = [
    ("sill strip", ALL, {}),
    ("pan", ALL, {"pan": ("membrane", "stretch", "rigid")}),
    ("pan corner", ALL, {"pan": ("membrane",)}),
    ("jamb strip", ALL, {}),
    ("hinge bead", ALL, {"fin": ("folding",)}),
    ("back bead", ALL, {}),
    ("unit", ALL, {}),
    ("fasteners", ALL, {}),
    ("corner patch", ALL, {"corners": ("open",)}),
    ("over-fin strip", BEHIND, {"over_fin": ("membrane",)}),
    ("face bead", BEHIND, {"over_fin": ("sealed",)}),
    ("head strip", ALL, {"head_strip": (True,)}),
    ("inside seal", ALL, {}),
    ("wrb", WRB_BEFORE, {}),
    ("head flap", WRB_BEFORE, {}),
    ("flap tape", WRB_BEFORE, {}),
    ("wrb below", WRB_AFTER, {}),
    ("wrb beside", WRB_AFTER, {}),
    ("wrb above", WRB_AFTER, {}),
]

ITEMS = (
    "wrb", "sill strip", "pan", "pan corner", "jamb strip", "hinge bead", "back bead", "unit", "fasteners",
    "corner patch", "over-fin strip", "sill cover", "face bead", "drip cap", "head strip", "head flap",
    "flap tape", "wrb below", "wrb beside", "wrb above", "inside seal",
)  # fmt: skip


def every_choice():
    """Return each method's code with each combination of choices that it can have."""
    combinations = product(
        ("membrane", "stretch", "rigid", "none"),
        (True, False),
        (("fixed", "open"), ("folding", "welded")),  # no row of the table asks for both
        (True, False),
    )
    chosen = [
        {"pan": pan, "head_strip": head_strip, "fin": fin, "corners": corners, "drip_cap": drip_cap}
        for pan, head_strip, (fin, corners), drip_cap in combinations
    ]
    over_fins = {
        "A": ("membrane",),
        "A1": ("membrane",),
        "B": ("none", "membrane", "sealed"),
        "B1": ("none", "membrane", "sealed"),
    }
    return [
        (code, {**choices, "over_fin": over_fin})
        for code in ALL
        for over_fin in over_fins[code]
        for choices in chosen
    ]


def rows(table, code, choices):
    """Return the first entries of the rows that hold for a method and its choices."""
    return [
        row[:-2]
        for row in table
        if code in row[-2] and all(choices[name] in values for name, values in row[-1].items())
    ]
