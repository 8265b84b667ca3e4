"""The field guide's sections 4 to 7 and the published answer, worked out a second time from their text alone.

Nothing of the project is imported. Lengths are fractions of inches; a volume is a float, as pi is.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, pi, sqrt
from typing import Any

Row = dict[str, Any]
Settings = dict[str, Any]
Lines = list[dict[str, Any]]
HALF = Fraction(1, 2)
JAMBS = ("left jamb", "right jamb")
RODS = [Fraction(eighths, 8) for eighths in (2, 3, 4, 5, 6, 8)]
DEFAULTS: Settings = {
    "method": "B1", "over_fin": None, "head_strip": "yes", "fin": "fixed", "corners": "welded",
    "pan": "membrane", "shims": "yes", "drip_cap": "no", "head_fasteners": "yes", "air_seal": "foam",
    "stock_widths": [Fraction(4), Fraction(6), Fraction(9), Fraction(12)],
    "screw_lengths": [Fraction(3, 2), Fraction(2), Fraction(5, 2), Fraction(3)],
    **{
        name: Fraction(value)
        for name, value in {
            "wall_depth": "5.9375", "clearance": "0.5", "sill_strip_width": "9", "jamb_strip_width": "9",
            "head_strip_width": "9", "jamb_wrap": "0", "head_extra": "0", "pan_upturn": "6",
            "pan_turn_down": "3", "pan_back_dam": "0.75", "roll_length": "900", "strip_trim": "0",
            "tape_width": "3", "hinge_bead": "0.25", "back_bead": "0.5", "face_bead": "0.5",
            "bead_offset": "0", "weep_gap": "3", "sealant_waste": "0.15", "cartridge_floz": "10.1",
            "fastener_corner": "3", "fastener_target": "12", "fastener_min": "9", "fastener_max": "18",
            "sheathing": "0.4375", "foam_thickness": "0", "air_seal_depth": "1.5",
            "air_seal_sill_depth": "0.75", "frame_share": "0.3",
        }.items()
    },
}  # fmt: skip


class Opening:
    """One row under its settings: sizes, choices, and the lines that follow from them."""

    def __init__(self, row: Row, settings: Settings) -> None:
        self.row, self.settings, self.lines = row, settings, Lines()
        self.width, self.height = row["unit_width"], row["unit_height"]
        self.ro_width = row.get("ro_width", self.width + settings["clearance"])
        self.ro_height = row.get("ro_height", self.height + settings["clearance"])
        self.method = row.get("method", settings["method"])
        over_fin = row.get("over_fin") or settings["over_fin"] or "none"
        self.over_fin = "membrane" if self.method in ("A", "A1") else over_fin
        self.pan = self.choice("pan")
        for work_out in (self.strips, self.pans, self.beads, self.fasteners, self.pieces, self.inside):
            work_out()

    def choice(self, name: str) -> Any:
        return self.row.get(name, self.settings[name])

    def add(self, part: str, zone: str, kind: str, count: int = 1, **values: Any) -> None:
        self.lines.append({"part": part, "zone": zone, "kind": kind, "count": count, **values})

    def strips(self) -> None:
        given = self.settings
        sill, jamb, head = (given[f"{name}_strip_width"] for name in ("sill", "jamb", "head"))
        across = self.ro_width + 2 * (jamb - given["jamb_wrap"])
        along = self.ro_height + (head - HALF) + (sill - HALF)
        self.add("sill strip", "sill", "strip", length_in=across, width_in=sill)
        parts = ["jamb strip"]
        if self.method in ("B", "B1") and self.over_fin == "membrane":
            parts.append("over-fin strip")
        for part in parts:
            for zone in JAMBS:
                self.add(part, zone, "strip", length_in=along, width_in=jamb)
        if given["head_strip"] == "yes":
            self.add("head strip", "head", "strip", length_in=across + 2 * given["head_extra"], width_in=head)
        if self.method in ("A1", "B1"):
            cut = sqrt(2) * float(head + given["head_extra"])
            self.add("flap tape", "head", "tape", 2, length_in=cut + 6, width_in=given["tape_width"])

    def pans(self) -> None:
        given, depth = self.settings, self.choice("wall_depth")
        if self.pan == "rigid":
            self.add("pan", "sill", "piece", width_in=self.ro_width, depth_in=depth)
        if self.pan in ("membrane", "stretch"):
            needed = depth + given["pan_back_dam"] + given["pan_turn_down"]
            width = min(width for width in given["stock_widths"] if width >= needed)
            length = self.ro_width + 2 * given["pan_upturn"]
            self.add("pan", "sill", "strip", length_in=length, width_in=width)
        if self.pan == "membrane":
            self.add("pan corner", "corner", "piece", 2)

    def beads(self) -> None:
        given, more = self.settings, 2 * self.settings["bead_offset"]
        if self.choice("fin") == "folding":
            self.bead("hinge bead", "head", self.width)
            self.bead("hinge bead", "sill", self.width)
            for zone in JAMBS:
                self.bead("hinge bead", zone, self.height)
        sill = self.width + more if self.pan == "none" else max(0, self.width - 2 * given["weep_gap"])
        parts = ["back bead"] + ["face bead"] * (self.method in ("B", "B1") and self.over_fin == "sealed")
        for part in parts:
            if part == "back bead" or given["head_strip"] == "no":
                self.bead(part, "head", self.width + more)
            for zone in JAMBS:
                self.bead(part, zone, self.height + more)
            self.bead(part, "sill", sill)

    def bead(self, part: str, zone: str, length: Fraction) -> None:
        diameter = self.settings[part.replace(" ", "_")]
        volume = pi * float(diameter) ** 2 / 4 * float(length)
        self.add(part, zone, "bead", length_in=length, diameter_in=diameter, volume_in3=volume)

    def fasteners(self) -> None:
        sides = [("sill", self.width), *((zone, self.height) for zone in JAMBS)]
        if self.choice("head_fasteners") != "no":
            sides.append(("head", self.width))
        makers = self.row.get("fastener_max", self.settings["fastener_max"])
        target = min(self.settings["fastener_target"], self.settings["fastener_max"], makers)
        corner = self.choice("fastener_corner")
        for zone, side in sides:
            span = side - 2 * corner
            spaces = 0 if span < 3 else ceil(span / target)
            places = [corner + i * span / spaces for i in range(spaces + 1)] if spaces else [side / 2]
            spacing = span / spaces if spaces else None
            self.add("fasteners", zone, "fasteners", len(places), positions_in=places, spacing_in=spacing)

    def pieces(self) -> None:
        patches = 4 * (self.choice("corners") == "open") + 2 * self.row.get("mulls", 0)
        if patches:
            self.add("corner patch", "corner", "piece", patches)
        if self.settings["drip_cap"] == "yes":
            self.add("drip cap", "head", "stick", length_in=self.width + HALF)
        if self.settings["shims"] == "yes":
            under, beside = max(2, ceil((self.width - 8) / 15) + 1), 3 if self.height > 48 else 2
            for zone, points in (("sill", under), *((zone, beside) for zone in JAMBS)):
                self.add("shims", zone, "piece", 2 * points, points=points)

    def inside(self) -> None:
        above, beside = (self.ro_height - self.height) / 2, (self.ro_width - self.width) / 2
        sides = [("head", self.width, above), ("sill", self.width, above)]
        sides += [(zone, self.height, beside) for zone in JAMBS]
        for zone, side, gap in sides:
            if self.settings["air_seal"] == "foam":
                depth = self.settings["air_seal_sill_depth" if zone == "sill" else "air_seal_depth"]
                self.add("foam", zone, "foam", volume_in3=side * gap * depth)
            if self.settings["air_seal"] == "rod and bead":
                rod = next((size for size in RODS if size >= gap * Fraction(5, 4)), None)
                self.add("backer rod", zone, "rod", length_in=side, diameter_in=rod)
                section = gap * min(max(gap / 2, Fraction(1, 4)), HALF)
                self.add(
                    "inside bead",
                    zone,
                    "bead",
                    length_in=side,
                    section_in2=section,
                    volume_in3=section * side,
                )

    @property
    def weight(self) -> float | None:
        """Pounds: as given, else 2500 kg/m3 of glass over the whole unit and the frame's share."""
        if "weight_lb" in self.row:
            return float(self.row["weight_lb"])
        if "glass" not in self.row:
            return None
        panes, millimetres = self.row["glass"]
        square_metres = self.width * self.height * Fraction("0.0254") ** 2
        kilograms = square_metres * panes * millimetres / 1000 * 2500 * (1 + self.settings["frame_share"])
        return float(kilograms / Fraction("0.45359237"))


def house(openings: list[Opening], settings: Settings) -> dict[str, Any]:
    """Return the house's totals."""
    lines = [line for opening in openings for line in opening.lines]
    sealant = sum(float(line["volume_in3"]) for line in lines if line["kind"] == "bead")
    tube = float(settings["cartridge_floz"]) * 231 / 128
    needed = Fraction(1, 8) + Fraction(1, 16) + Fraction(5, 4) + settings["sheathing"]
    screws = [size for size in settings["screw_lengths"] if size >= needed + settings["foam_thickness"]]
    strips = [line for line in lines if line["kind"] == "strip"]
    return {
        "strips": {key(width): _strips(strips, width) for width in {line["width_in"] for line in strips}},
        "rolls": {
            key(width): {f"{key(settings['roll_length'] / 12)} ft": _rolls(strips, width, settings)}
            for width in {line["width_in"] for line in strips}
        },
        "sealant_in3": sealant,
        "cartridges": ceil(sealant * float(1 + settings["sealant_waste"]) / tube),
        "fasteners": _count(lines, "fasteners"),
        "screw_length_in": min(screws, default=None),
        "corner_patches": _count(lines, "corner patch"),
        "pan_corners": _count(lines, "pan corner"),
        "flap_tape_in": _along(lines, "flap tape"),
        "foam_in3": sum(line["volume_in3"] for line in lines if line["kind"] == "foam"),
        "backer_rod_in": _along(lines, "backer rod"),
        "shims": _count(lines, "shims"),
        "drip_cap_in": _along(lines, "drip cap"),
        "strip_area_in2": sum(line["length_in"] * line["width_in"] for line in strips),
    }


def key(number: Fraction) -> str:
    """Return a width or a number of feet as the answer names it."""
    return f"{float(number):.4f}".rstrip("0").rstrip(".")


def _count(lines: Lines, part: str) -> int:
    return sum(line["count"] for line in lines if line["part"] == part)


def _along(lines: Lines, part: str) -> Any:
    return sum(line["length_in"] * line["count"] for line in lines if line["part"] == part)


def _strips(strips: Lines, width: Fraction) -> dict[str, Any]:
    lengths = [line["length_in"] for line in strips if line["width_in"] == width]
    return {"length_in": sum(lengths), "count": len(lengths)}


def _rolls(strips: Lines, width: Fraction, settings: Settings) -> int:
    """Return the rolls by first-fit-decreasing: the longest strip first, into the first roll with room."""
    rooms: list[Fraction] = []
    lengths = [line["length_in"] + settings["strip_trim"] for line in strips if line["width_in"] == width]
    for length in sorted(lengths, reverse=True):
        place = next((place for place, room in enumerate(rooms) if room >= length), len(rooms))
        if place == len(rooms):
            rooms.append(settings["roll_length"])
        rooms[place] -= length
    return len(rooms)
