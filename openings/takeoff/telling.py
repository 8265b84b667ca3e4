"""How a line of the takeoff reads for a person: its measures in words. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from projects.quantities.length import Length
from projects.quantities.text import format_rounded

DIAMETER = "⌀"


def tell(line: Mapping[str, Any]) -> str:
    """Return the measures of a line, as the published document carries it: `54 1/2" long, 9" wide`."""
    if line["kind"] == "fasteners":
        return f"at {', '.join(_inches(position) for position in line['positions_in'])}"
    return ", ".join(_measures(line))


def _measures(line: Mapping[str, Any]) -> Iterator[str]:
    if line.get("length_in") is not None:
        yield f"{_inches(line['length_in'])} long"
    if line.get("diameter_in") is not None:
        yield f"{DIAMETER} {_inches(line['diameter_in'])}"
    if "width_in" in line:
        yield f"{_inches(line['width_in'])} wide"
    if line.get("depth_in") is not None:
        yield f"{_inches(line['depth_in'])} deep"
    if "points" in line:
        yield f"at {line['points']} points"
    if "volume_in3" in line:
        yield f"{line['volume_in3']:.1f} in³"


def _inches(inches: float) -> str:
    return format_rounded(Length.inches(inches))
