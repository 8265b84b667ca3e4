"""The command's answer for any schedule and settings is what the guide's text comes to."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.materials.takeoff.command import run_takeoff
from tests.materials.takeoff.guide import DEFAULTS, Opening, Row, Settings, house

CHOICES = {
    "method": ("A", "A1", "B", "B1"),
    "pan": ("membrane", "stretch", "rigid", "none"),
    "fin": ("fixed", "folding"),
    "corners": ("welded", "open"),
    "head_fasteners": ("yes", "no", "loose"),
}
SET_ONLY = {
    "over_fin": ("none", "membrane", "sealed"),
    "head_strip": ("yes", "no"),
    "shims": ("yes", "no"),
    "drip_cap": ("yes", "no"),
    "air_seal": ("foam", "rod and bead", "none"),
}
# low and high in sixteenths of an inch
MEASURES = {
    "wall_depth": (48, 128), "clearance": (0, 32), "sill_strip_width": (64, 192),
    "jamb_strip_width": (64, 192), "head_strip_width": (64, 192), "jamb_wrap": (0, 48),
    "head_extra": (0, 32), "pan_upturn": (48, 128), "pan_turn_down": (16, 64), "pan_back_dam": (0, 32),
    "roll_length": (9600, 19200), "strip_trim": (0, 32), "tape_width": (32, 64), "hinge_bead": (2, 8),
    "back_bead": (2, 12), "face_bead": (2, 12), "bead_offset": (0, 32), "weep_gap": (8, 96),
    "fastener_corner": (16, 128), "fastener_target": (64, 384), "fastener_min": (48, 192),
    "fastener_max": (96, 384), "sheathing": (0, 16), "foam_thickness": (0, 24), "air_seal_depth": (0, 48),
    "air_seal_sill_depth": (0, 32),
}  # fmt: skip
COLUMNS = (
    "mark", "elevation", "unit_width", "unit_height", "ro_width", "ro_height", "method", "over_fin", "pan",
    "fin", "corners", "head_fasteners", "wall_depth", "fastener_corner", "fastener_max", "mulls",
    "weight_lb", "glass",
)  # fmt: skip
WIDE_ENOUGH = [Fraction(9), Fraction(14)]  # 8 of wall, 2 of back dam and 4 of turn-down at most


def sixteenths(low: int, high: int) -> st.SearchStrategy[Fraction]:
    return st.integers(low, high).map(lambda number: Fraction(number, 16))


@st.composite
def chosen_settings(draw: st.DrawFn) -> Settings:
    """A few settings; stock is always wide enough for any pan."""
    names = draw(st.sets(st.sampled_from([*CHOICES, *SET_ONLY, *MEASURES]), max_size=12))
    found: Settings = {"stock_widths": WIDE_ENOUGH}
    for name in sorted(names):
        values = {**CHOICES, **SET_ONLY}.get(name)
        found[name] = draw(sixteenths(*MEASURES[name]) if values is None else st.sampled_from(values))
    shares = st.integers(0, 60).map(lambda percent: Fraction(percent, 100))
    return {**found, "sealant_waste": draw(shares), "frame_share": draw(shares)}


@st.composite
def rows(draw: st.DrawFn) -> Row:
    """An opening with some columns of its own."""
    row: Row = {name: draw(sixteenths(96, 1920)) for name in ("unit_width", "unit_height")}
    for name in draw(st.sets(st.sampled_from(["width", "height"]))):
        row[f"ro_{name}"] = row[f"unit_{name}"] + draw(sixteenths(0, 48))
    for name in sorted(draw(st.sets(st.sampled_from([*CHOICES]), max_size=3))):
        row[name] = draw(st.sampled_from(CHOICES[name]))
    if row.get("method") in ("B", "B1"):
        row["over_fin"] = draw(st.sampled_from(SET_ONLY["over_fin"]))
    for name in draw(st.sets(st.sampled_from(["wall_depth", "fastener_corner", "fastener_max"]))):
        row[name] = draw(sixteenths(*MEASURES[name]))
    row["mulls"] = draw(st.integers(0, 3))
    weight = draw(st.sampled_from(["", "weight_lb", "glass"]))
    if weight == "glass":
        row[weight] = (draw(st.integers(1, 3)), draw(st.sampled_from([3, 4, 6])))
    elif weight:
        row[weight] = draw(st.integers(20, 200))
    return row


def written(value: Any) -> str:
    """Return a value as it stands in a cell or behind --set."""
    if isinstance(value, tuple):
        return f"{value[0]}x{value[1]}mm"
    if isinstance(value, list):
        return ",".join(written(each) for each in value)
    return f"{float(value):.6f}" if isinstance(value, Fraction) else str(value)


def agree(told: Any, worked: Any) -> bool:
    """Return whether both say the same, numbers to a millionth."""
    if isinstance(worked, dict):
        return told.keys() >= worked.keys() and all(agree(told[name], worked[name]) for name in worked)
    if isinstance(worked, list):
        return len(told) == len(worked) and all(map(agree, told, worked))
    if worked is None or isinstance(worked, str):
        return bool(told == worked)
    return abs(told - float(worked)) <= 1e-6


def by_side(lines: list[dict[str, Any]]) -> dict[tuple[str, str], dict[str, Any]]:
    found = {(line["part"], line["zone"]): line for line in lines}
    assert len(found) == len(lines)
    return found


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(chosen=chosen_settings(), schedule=st.lists(rows(), min_size=1, max_size=6))
def test_every_line_and_total_is_the_guides(tmp_path: Path, chosen: Settings, schedule: list[Row]) -> None:
    named = [{"mark": f"W{number}", "elevation": "Front", **row} for number, row in enumerate(schedule)]
    text = [",".join(COLUMNS)]
    text += [",".join(written(row.get(column, "")) for column in COLUMNS) for row in named]
    given_settings = {**DEFAULTS, **chosen}
    expected = [Opening(row, given_settings) for row in schedule]

    document, code = run_takeoff(
        tmp_path, "\n".join(text), **{name: written(value) for name, value in chosen.items()}
    )

    assert (code, document["problems"]) == (0, [])
    for told, worked in zip(document["openings"], expected, strict=True):
        lines = by_side(told["lines"])
        assert lines.keys() == by_side(worked.lines).keys()
        assert all(agree(lines[side], line) for side, line in by_side(worked.lines).items())
        assert agree([told["ro_width_in"], told["ro_height_in"]], [worked.ro_width, worked.ro_height])
        assert agree(told["weight_lb"], worked.weight)
        assert told["people"] == (3 if (worked.weight or 0) > 100 else 2)
    assert agree(document["house"], house(expected, given_settings))
