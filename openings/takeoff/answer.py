"""A takeoff in the published form: openings and lines as plain values, lengths in inches. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from openings.takeoff.compute import OpeningTakeoff
from openings.takeoff.demand import Bead, Fasteners, Foam, Line, Piece, Rod, Stick, Strip, Tape
from projects.quantities.length import Length
from projects.quantities.volume import Area, Volume


def opening_as_json(takeoff: OpeningTakeoff) -> dict[str, Any]:
    """Return one opening with its lines."""
    opening = takeoff.opening
    return {
        "mark": opening.mark,
        "elevation": opening.elevation,
        "unit_width_in": opening.unit_width.in_inches,
        "unit_height_in": opening.unit_height.in_inches,
        "ro_width_in": opening.ro_width.in_inches,
        "ro_height_in": opening.ro_height.in_inches,
        "weight_lb": None if takeoff.weight is None else takeoff.weight.in_pounds,
        "people": takeoff.people,
        "flags": list(opening.flags),
        "notices": [notice.text for notice in takeoff.notices],
        "lines": lines_as_json(takeoff.lines),
    }


def lines_as_json(lines: Sequence[Line]) -> list[dict[str, Any]]:
    """Return each line with the keys of its kind."""
    return [line_as_json(line) for line in lines]


def line_as_json(line: Line) -> dict[str, Any]:
    """Return one line: part, zone, kind, count, the keys of its kind, and how the rule is founded."""
    return {
        "part": line.part,
        "zone": line.zone,
        "kind": line.kind,
        "count": line.count,
        **_of_kind(line),
        "basis": line.basis,
        "grade": line.grade,
        "source": line.source,
    }


def _of_kind(line: Line) -> dict[str, Any]:
    match line:
        case Bead():
            return _of_bead(line)
        case Fasteners():
            positions = [_inches(position) for position in line.positions_nm]
            return {"positions_in": positions, "spacing_in": _inches(line.spacing_nm)}
        case Piece():
            return _of_piece(line)
        case Foam():
            return {"volume_in3": Volume(line.volume_pl).in_cubic_inches}
        case Rod() | Strip() | Tape() | Stick():
            return _of_length(line)


def _of_length(line: Rod | Strip | Tape | Stick) -> dict[str, Any]:
    length = {"length_in": _inches(line.length_nm)}
    if isinstance(line, Strip | Tape):
        return {**length, "width_in": _inches(line.width_nm)}
    return {**length, "diameter_in": _inches(line.diameter_nm)} if isinstance(line, Rod) else length


def _of_bead(bead: Bead) -> dict[str, Any]:
    section = (
        {"section_in2": Area(bead.section.nm2).in_square_inches}
        if bead.section.diameter_nm is None
        else {"diameter_in": _inches(bead.section.diameter_nm)}
    )
    volume = Volume(bead.volume_pl).in_cubic_inches
    return {"length_in": _inches(bead.length_nm), **section, "volume_in3": volume}


def _of_piece(piece: Piece) -> dict[str, Any]:
    if piece.points is not None:
        return {"points": piece.points}
    if piece.width_nm is not None:
        return {"width_in": _inches(piece.width_nm), "depth_in": _inches(piece.depth_nm)}
    return {}


def _inches(nm: int | None) -> float | None:
    return None if nm is None else Length(nm).in_inches
