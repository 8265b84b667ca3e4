"""An opening of method A and one of A1, worked by hand term by term before any code ran."""

from __future__ import annotations

from math import sqrt

from openings.takeoff.opening import GlassPanes, OpeningInput
from projects.quantities.length import Length
from tests.materials.takeoff.goldens.golden import HALF, QUARTER, Golden, inch

# Method A, all defaults. Unit 36 x 60, RO 36 1/2 x 60 1/2 (unit + 1/2): W = 36.5, H = 60.5.
# Faces of the jamb strips: 9 - 0 = 9.
A = Golden(
    schedule="elevation,mark,unit_width,unit_height,method\nFront,W1,36,60,A\n",
    row=OpeningInput("W1", "Front", inch(36), inch(60), inch("36.5"), inch("60.5"), method="A"),
    settings={},
    opening={
        "mark": "W1",
        "elevation": "Front",
        "unit_width_in": 36,
        "unit_height_in": 60,
        "ro_width_in": 36.5,
        "ro_height_in": 60.5,
        "weight_lb": None,
        "people": 2,
    },
    lines={
        # 36.5 + 2 x 9 = 54.5
        ("sill strip", "sill"): {"kind": "strip", "count": 1, "length_in": 54.5, "width_in": 9},
        # 36.5 + 2 x 6 = 48.5; 5.9375 + 0.75 + 3 = 9.6875 -> 12-in stock
        ("pan", "sill"): {"kind": "strip", "count": 1, "length_in": 48.5, "width_in": 12},
        ("pan corner", "corner"): {"kind": "piece", "count": 2},
        # 60.5 + (9 - 1/2) + (9 - 1/2) = 77.5
        ("jamb strip", "left jamb"): {"kind": "strip", "count": 1, "length_in": 77.5, "width_in": 9},
        ("jamb strip", "right jamb"): {"kind": "strip", "count": 1, "length_in": 77.5, "width_in": 9},
        # 36.5 + 2 x 9 + 2 x 0 = 54.5
        ("head strip", "head"): {"kind": "strip", "count": 1, "length_in": 54.5, "width_in": 9},
        # fixed fin: no hinge bead. Back bead 1/2: head 36, jambs 60, sill 36 - 2 x 3 = 30
        ("back bead", "head"): {
            "kind": "bead",
            "count": 1,
            "length_in": 36,
            "diameter_in": 0.5,
            "volume_in3": 36 * HALF,
        },
        ("back bead", "left jamb"): {"count": 1, "length_in": 60, "volume_in3": 60 * HALF},
        ("back bead", "right jamb"): {"count": 1, "length_in": 60, "volume_in3": 60 * HALF},
        ("back bead", "sill"): {"count": 1, "length_in": 30, "volume_in3": 30 * HALF},
        # span 36 - 6 = 30; ceil(30 / 12) = 3 spaces of 10
        ("fasteners", "head"): {
            "kind": "fasteners",
            "count": 4,
            "positions_in": [3, 13, 23, 33],
            "spacing_in": 10,
        },
        ("fasteners", "sill"): {"count": 4, "positions_in": [3, 13, 23, 33], "spacing_in": 10},
        # span 60 - 6 = 54; ceil(4.5) = 5 spaces of 10.8
        ("fasteners", "left jamb"): {
            "count": 6,
            "positions_in": [3, 13.8, 24.6, 35.4, 46.2, 57],
            "spacing_in": 10.8,
        },
        ("fasteners", "right jamb"): {
            "count": 6,
            "positions_in": [3, 13.8, 24.6, 35.4, 46.2, 57],
            "spacing_in": 10.8,
        },
        # gap (36.5 - 36) / 2 = 1/4 on both axes; head and jambs 1 1/2 deep, sill 3/4
        ("foam", "head"): {"kind": "foam", "count": 1, "volume_in3": 13.5},  # 36 x 1/4 x 1 1/2
        ("foam", "left jamb"): {"volume_in3": 22.5},  # 60 x 1/4 x 1 1/2
        ("foam", "right jamb"): {"volume_in3": 22.5},
        ("foam", "sill"): {"volume_in3": 6.75},  # 36 x 1/4 x 3/4
        # sill max(2, ceil((36 - 8) / 15) + 1) = max(2, 2 + 1) = 3 points; 60 > 48: 3 a jamb; pairs
        ("shims", "sill"): {"kind": "piece", "count": 6, "points": 3},
        ("shims", "left jamb"): {"count": 6, "points": 3},
        ("shims", "right jamb"): {"count": 6, "points": 3},
    },
    house={
        # 54.5 + 54.5 + 2 x 77.5 = 264; pan 48.5
        "strips": {"9": {"length_in": 264, "count": 4}, "12": {"length_in": 48.5, "count": 1}},
        "rolls": {"9": {"75 ft": 1}, "12": {"75 ft": 1}},  # 264 <= 900
        "sealant_in3": 186 * HALF,  # 36 + 60 + 60 + 30
        "cartridges": 3,  # 36.5210 x 1.15 / 18.2273 = 2.304
        "fasteners": 20,  # 4 + 4 + 6 + 6
        "screw_length_in": 2,  # 1/8 + 1/16 + 7/16 + 0 + 1 1/4 = 1.875
        "corner_patches": 0,
        "pan_corners": 2,
        "flap_tape_in": 0,
        "foam_in3": 65.25,  # 13.5 + 45 + 6.75
        "backer_rod_in": 0,
        "shims": 18,
        "drip_cap_in": 0,
        "strip_area_in2": 2958,  # 264 x 9 + 48.5 x 12 = 2376 + 582
    },
    # the first sill screw stands 3 from the corner, the gap is 3 long: every sill, so said once
    house_notices=("weep gap",),
)

# Method A1, many settings. Unit 28 x 52, RO 28 3/4 x 52 1/2: gaps 3/8 beside, 1/4 above and below.
# Strips 6 wide, 1 wrapped into the opening: faces 6 - 1 = 5. Head strip 1 past each jamb strip.
# Glass two panes of 3 mm: 28 x 52 in = 1456 x 0.00064516 = 0.93935296 m2, x 0.006 x 2500 = 14.0902944 kg,
# x (1 + 0.30) = 18.31738272 kg, / 0.45359237 = 40.3829 lb.
A1 = Golden(
    schedule=(
        "elevation,mark,unit_width,unit_height,ro_width,ro_height,method,fin,corners,pan,glass\n"
        "North,N-1,28,52,28 3/4,52 1/2,A1,folding,open,stretch,2x3mm\n"
    ),
    row=OpeningInput(
        "N-1",
        "North",
        inch(28),
        inch(52),
        inch("28.75"),
        inch("52.5"),
        method="A1",
        fin="folding",
        corners="open",
        pan="stretch",
        glass=GlassPanes(2, Length.mm(3)),
    ),
    settings={
        "strip_width": "6",
        "jamb_wrap": "1",
        "head_extra": "1",
        "bead_offset": "1 1/8",
        "fastener_target": "16",
        "shims": "no",
        "drip_cap": "yes",
        "air_seal": "rod and bead",
    },
    opening={
        "mark": "N-1",
        "elevation": "North",
        "unit_width_in": 28,
        "unit_height_in": 52,
        "ro_width_in": 28.75,
        "ro_height_in": 52.5,
        "weight_lb": 18.31738272 / 0.45359237,
        "people": 2,
    },
    lines={
        ("sill strip", "sill"): {"count": 1, "length_in": 38.75, "width_in": 6},  # 28.75 + 2 x 5
        ("pan", "sill"): {"kind": "strip", "count": 1, "length_in": 40.75, "width_in": 12},  # 28.75 + 12
        # 52.5 + 5.5 + 5.5 = 63.5
        ("jamb strip", "left jamb"): {"count": 1, "length_in": 63.5, "width_in": 6},
        ("jamb strip", "right jamb"): {"count": 1, "length_in": 63.5, "width_in": 6},
        ("head strip", "head"): {"count": 1, "length_in": 40.75, "width_in": 6},  # 28.75 + 10 + 2
        # cut sqrt(2) x (6 + 1) = 9.8995, + 6 = 15.8995
        ("flap tape", "head"): {
            "kind": "tape",
            "count": 2,
            "length_in": 7 * sqrt(2) + 6,
            "width_in": 3,
        },
        # hinge bead: the unit's four sides, no offset, no gaps
        ("hinge bead", "head"): {
            "count": 1,
            "length_in": 28,
            "diameter_in": 0.25,
            "volume_in3": 28 * QUARTER,
        },
        ("hinge bead", "left jamb"): {"length_in": 52, "volume_in3": 52 * QUARTER},
        ("hinge bead", "right jamb"): {"length_in": 52, "volume_in3": 52 * QUARTER},
        ("hinge bead", "sill"): {"length_in": 28, "volume_in3": 28 * QUARTER},
        # back bead 1 1/8 outside the frame: head 28 + 2 1/4, jambs 52 + 2 1/4, sill 28 - 6
        ("back bead", "head"): {"length_in": 30.25, "volume_in3": 30.25 * HALF},
        ("back bead", "left jamb"): {"length_in": 54.25, "volume_in3": 54.25 * HALF},
        ("back bead", "right jamb"): {"length_in": 54.25, "volume_in3": 54.25 * HALF},
        ("back bead", "sill"): {"length_in": 22, "volume_in3": 22 * HALF},
        # span 28 - 6 = 22; ceil(22 / 16) = 2 spaces of 11
        ("fasteners", "head"): {"count": 3, "positions_in": [3, 14, 25], "spacing_in": 11},
        ("fasteners", "sill"): {"count": 3, "positions_in": [3, 14, 25], "spacing_in": 11},
        # span 52 - 6 = 46; ceil(46 / 16) = 3 spaces of 46 / 3
        ("fasteners", "left jamb"): {
            "count": 4,
            "positions_in": [3, 3 + 46 / 3, 3 + 92 / 3, 49],
            "spacing_in": 46 / 3,
        },
        ("fasteners", "right jamb"): {
            "count": 4,
            "positions_in": [3, 3 + 46 / 3, 3 + 92 / 3, 49],
            "spacing_in": 46 / 3,
        },
        ("corner patch", "corner"): {"kind": "piece", "count": 4},
        ("drip cap", "head"): {"kind": "stick", "count": 1, "length_in": 28.5},  # 28 + 1/2
        # rod: 1/4 x 1.25 = 0.3125 -> 3/8; 3/8 x 1.25 = 0.46875 -> 1/2
        ("backer rod", "head"): {"kind": "rod", "count": 1, "length_in": 28, "diameter_in": 0.375},
        ("backer rod", "left jamb"): {"length_in": 52, "diameter_in": 0.5},
        ("backer rod", "right jamb"): {"length_in": 52, "diameter_in": 0.5},
        ("backer rod", "sill"): {"length_in": 28, "diameter_in": 0.375},
        # depth half the gap, at least 1/4: 1/4 x 1/4 = 0.0625; 3/8 x 1/4 = 0.09375
        ("inside bead", "head"): {
            "kind": "bead",
            "count": 1,
            "length_in": 28,
            "section_in2": 0.0625,
            "volume_in3": 1.75,
        },
        ("inside bead", "left jamb"): {"length_in": 52, "section_in2": 0.09375, "volume_in3": 4.875},
        ("inside bead", "right jamb"): {"length_in": 52, "section_in2": 0.09375, "volume_in3": 4.875},
        ("inside bead", "sill"): {"length_in": 28, "section_in2": 0.0625, "volume_in3": 1.75},
    },
    house={
        # 38.75 + 40.75 + 2 x 63.5 = 206.5; pan 40.75
        "strips": {"6": {"length_in": 206.5, "count": 4}, "12": {"length_in": 40.75, "count": 1}},
        "rolls": {"6": {"75 ft": 1}, "12": {"75 ft": 1}},
        # hinge 160, back 30.25 + 108.5 + 22 = 160.75, inside 1.75 + 9.75 + 1.75 = 13.25
        "sealant_in3": 160 * QUARTER + 160.75 * HALF + 13.25,
        "cartridges": 4,  # 52.6672 x 1.15 / 18.2273 = 3.323
        "fasteners": 14,
        "screw_length_in": 2,
        "corner_patches": 4,
        "pan_corners": 0,
        "flap_tape_in": 2 * (7 * sqrt(2) + 6),
        "foam_in3": 0,
        "backer_rod_in": 160,
        "shims": 0,
        "drip_cap_in": 28.5,
        "strip_area_in2": 1728,  # 206.5 x 6 + 40.75 x 12 = 1239 + 489
    },
    house_notices=("weep gap",),
)
