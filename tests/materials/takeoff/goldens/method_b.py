"""An opening of method B and one of B1, worked by hand term by term before any code ran."""

from __future__ import annotations

from math import sqrt

from openings.takeoff.opening import OpeningInput
from projects.quantities.mass import Mass
from tests.materials.takeoff.goldens.golden import HALF, QUARTER, Golden, inch

# Method B, over-fin detail none by the method, no pan. Unit 20 x 30, RO 20 1/2 x 30 1/2.
# The maker asks 9 from the corners and at most 8 apart; the head screws loose; one factory mull.
B = Golden(
    schedule=(
        "elevation,mark,unit_width,unit_height,method,pan,mulls,fastener_corner,fastener_max,head_fasteners\n"
        "East,E1,20,30,B,none,1,9,8,loose\n"
    ),
    row=OpeningInput(
        "E1",
        "East",
        inch(20),
        inch(30),
        inch("20.5"),
        inch("30.5"),
        method="B",
        pan="none",
        mulls=1,
        fastener_corner=inch(9),
        fastener_max=inch(8),
        head_fasteners="loose",
    ),
    settings={},
    opening={
        "mark": "E1",
        "elevation": "East",
        "unit_width_in": 20,
        "unit_height_in": 30,
        "ro_width_in": 20.5,
        "ro_height_in": 30.5,
        "weight_lb": None,
        "people": 2,
    },
    lines={
        ("sill strip", "sill"): {"count": 1, "length_in": 38.5, "width_in": 9},  # 20.5 + 18
        ("jamb strip", "left jamb"): {"count": 1, "length_in": 47.5, "width_in": 9},  # 30.5 + 17
        ("jamb strip", "right jamb"): {"count": 1, "length_in": 47.5, "width_in": 9},
        ("head strip", "head"): {"count": 1, "length_in": 38.5, "width_in": 9},
        # no pan: no weep gaps
        ("back bead", "head"): {"length_in": 20, "volume_in3": 20 * HALF},
        ("back bead", "left jamb"): {"length_in": 30, "volume_in3": 30 * HALF},
        ("back bead", "right jamb"): {"length_in": 30, "volume_in3": 30 * HALF},
        ("back bead", "sill"): {"length_in": 20, "volume_in3": 20 * HALF},
        # span 20 - 18 = 2 < 3: one at the middle
        ("fasteners", "head"): {"count": 1, "positions_in": [10], "spacing_in": None},
        ("fasteners", "sill"): {"count": 1, "positions_in": [10], "spacing_in": None},
        # span 30 - 18 = 12; target min(12, 8) = 8; ceil(1.5) = 2 spaces of 6, no minimum applies
        ("fasteners", "left jamb"): {"count": 3, "positions_in": [9, 15, 21], "spacing_in": 6},
        ("fasteners", "right jamb"): {"count": 3, "positions_in": [9, 15, 21], "spacing_in": 6},
        ("corner patch", "corner"): {"count": 2},  # welded 0, + 2 for the mull
        ("foam", "head"): {"volume_in3": 7.5},  # 20 x 1/4 x 1 1/2
        ("foam", "left jamb"): {"volume_in3": 11.25},  # 30 x 1/4 x 1 1/2
        ("foam", "right jamb"): {"volume_in3": 11.25},
        ("foam", "sill"): {"volume_in3": 3.75},  # 20 x 1/4 x 3/4
        # max(2, ceil(12 / 15) + 1) = 2; 30 is not above 48: 2 a jamb
        ("shims", "sill"): {"count": 4, "points": 2},
        ("shims", "left jamb"): {"count": 4, "points": 2},
        ("shims", "right jamb"): {"count": 4, "points": 2},
    },
    house={
        "strips": {"9": {"length_in": 172, "count": 4}},  # 38.5 + 38.5 + 47.5 + 47.5
        "rolls": {"9": {"75 ft": 1}},
        "sealant_in3": 100 * HALF,
        "cartridges": 2,  # 19.6350 x 1.15 / 18.2273 = 1.239
        "fasteners": 8,
        "screw_length_in": 2,
        "corner_patches": 2,
        "pan_corners": 0,
        "flap_tape_in": 0,
        "foam_in3": 33.75,
        "backer_rod_in": 0,
        "shims": 12,
        "drip_cap_in": 0,
        "strip_area_in2": 1548,
    },
    opening_notices=("head: one fastener at the middle", "sill: one fastener at the middle"),
    house_notices=("loose",),
)

# Method B1 sealed, folding fin, open corners, rigid pan, 1 in of foam. Unit 72 x 60, one mull, 160 lb,
# RO 72 3/4 x 60 1/2: gaps 3/8 beside, 1/4 above and below.
B1 = Golden(
    schedule=(
        "elevation,mark,unit_width,unit_height,ro_size,fin,corners,over_fin,pan,wall_depth,mulls,weight_lb\n"
        "South,S1,72,60,72 3/4 x 60 1/2,folding,open,sealed,rigid,6 15/16,1,160\n"
    ),
    row=OpeningInput(
        "S1",
        "South",
        inch(72),
        inch(60),
        inch("72.75"),
        inch("60.5"),
        fin="folding",
        corners="open",
        over_fin="sealed",
        pan="rigid",
        wall_depth=inch("6.9375"),
        mulls=1,
        weight=Mass.pounds(160),
    ),
    settings={"foam_thickness": "1"},
    opening={
        "mark": "S1",
        "elevation": "South",
        "unit_width_in": 72,
        "unit_height_in": 60,
        "ro_width_in": 72.75,
        "ro_height_in": 60.5,
        "weight_lb": 160,
        "people": 3,
    },
    lines={
        ("sill strip", "sill"): {"count": 1, "length_in": 90.75, "width_in": 9},  # 72.75 + 18
        ("pan", "sill"): {"kind": "piece", "count": 1, "width_in": 72.75, "depth_in": 6.9375},
        ("jamb strip", "left jamb"): {"count": 1, "length_in": 77.5, "width_in": 9},  # 60.5 + 17
        ("jamb strip", "right jamb"): {"count": 1, "length_in": 77.5, "width_in": 9},
        ("head strip", "head"): {"count": 1, "length_in": 90.75, "width_in": 9},
        ("flap tape", "head"): {"count": 2, "length_in": 9 * sqrt(2) + 6, "width_in": 3},
        ("hinge bead", "head"): {"length_in": 72, "volume_in3": 72 * QUARTER},
        ("hinge bead", "left jamb"): {"length_in": 60, "volume_in3": 60 * QUARTER},
        ("hinge bead", "right jamb"): {"length_in": 60, "volume_in3": 60 * QUARTER},
        ("hinge bead", "sill"): {"length_in": 72, "volume_in3": 72 * QUARTER},
        ("back bead", "head"): {"length_in": 72, "volume_in3": 72 * HALF},
        ("back bead", "left jamb"): {"length_in": 60, "volume_in3": 60 * HALF},
        ("back bead", "right jamb"): {"length_in": 60, "volume_in3": 60 * HALF},
        ("back bead", "sill"): {"length_in": 66, "volume_in3": 66 * HALF},  # 72 - 2 x 3
        # the head strip needs a bare fin: no face bead there
        ("face bead", "left jamb"): {
            "kind": "bead",
            "count": 1,
            "length_in": 60,
            "diameter_in": 0.5,
            "volume_in3": 60 * HALF,
        },
        ("face bead", "right jamb"): {"length_in": 60, "volume_in3": 60 * HALF},
        ("face bead", "sill"): {"length_in": 66, "volume_in3": 66 * HALF},
        # span 66; ceil(5.5) = 6 spaces of 11
        ("fasteners", "head"): {"count": 7, "positions_in": [3, 14, 25, 36, 47, 58, 69], "spacing_in": 11},
        ("fasteners", "sill"): {"count": 7, "positions_in": [3, 14, 25, 36, 47, 58, 69], "spacing_in": 11},
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
        ("corner patch", "corner"): {"count": 6},  # 4 + 2 x 1
        ("foam", "head"): {"volume_in3": 27},  # 72 x 1/4 x 1 1/2
        ("foam", "left jamb"): {"volume_in3": 33.75},  # 60 x 3/8 x 1 1/2
        ("foam", "right jamb"): {"volume_in3": 33.75},
        ("foam", "sill"): {"volume_in3": 13.5},  # 72 x 1/4 x 3/4
        # ceil(64 / 15) + 1 = 6 points
        ("shims", "sill"): {"count": 12, "points": 6},
        ("shims", "left jamb"): {"count": 6, "points": 3},
        ("shims", "right jamb"): {"count": 6, "points": 3},
    },
    house={
        "strips": {"9": {"length_in": 336.5, "count": 4}},  # 2 x 90.75 + 2 x 77.5
        "rolls": {"9": {"75 ft": 1}},
        # hinge 264, back 72 + 120 + 66 = 258, face 120 + 66 = 186
        "sealant_in3": 264 * QUARTER + 258 * HALF + 186 * HALF,
        "cartridges": 7,  # 100.1383 x 1.15 / 18.2273 = 6.318
        "fasteners": 26,
        "screw_length_in": 3,  # 1/8 + 1/16 + 7/16 + 1 + 1 1/4 = 2.875
        "corner_patches": 6,
        "pan_corners": 0,
        "flap_tape_in": 2 * (9 * sqrt(2) + 6),
        "foam_in3": 108,  # 27 + 67.5 + 13.5
        "backer_rod_in": 0,
        "shims": 24,
        "drip_cap_in": 0,
        "strip_area_in2": 3028.5,
    },
    opening_notices=("160 lb",),
    house_notices=("weep gap",),
)
