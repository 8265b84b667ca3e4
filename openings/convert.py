"""Between an opening's row and the value that the takeoff reads; no query here."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from openings.models import Opening
from openings.takeoff.geometry import Geometry
from openings.takeoff.opening import GlassPanes, OpeningInput
from projects.quantities.length import Length
from projects.quantities.mass import Mass

_SIZES = ("unit_width", "unit_height", "ro_width", "ro_height")
_OPTIONAL_LENGTHS = ("wall_depth", "sill_height", "offset", "fastener_corner", "fastener_max")
_CHOICES = ("fin", "corners", "method", "over_fin", "pan", "head_fasteners")

COLUMNS: tuple[str, ...] = (
    "mark",
    "elevation__name",
    *(f"{name}_nm" for name in _SIZES),
    *(f"{name}_nm" for name in _OPTIONAL_LENGTHS),
    *_CHOICES,
    "mulls",
    "weight_ug",
    "glass_panes",
    "glass_thickness_nm",
    "flags",
    "note",
    "row",
)
GEOMETRY_COLUMNS: tuple[str, ...] = Geometry._fields


def opening_input(opening: Opening) -> OpeningInput:
    """Return the opening as the takeoff reads it; `opening.elevation` is fetched already."""
    columns = {name: getattr(opening, name) for name in COLUMNS if name != "elevation__name"}
    return input_of_columns({**columns, "elevation__name": opening.elevation.name})


def input_of_columns(columns: Mapping[str, Any]) -> OpeningInput:
    """Return the value of one row read by `.values(*COLUMNS)`."""
    panes, thickness = columns["glass_panes"], columns["glass_thickness_nm"]
    values: dict[str, Any] = {name: Length(columns[f"{name}_nm"]) for name in _SIZES}
    values |= {name: _length(columns[f"{name}_nm"]) for name in _OPTIONAL_LENGTHS}
    values |= {name: columns[name] or None for name in _CHOICES}
    return OpeningInput(
        mark=columns["mark"],
        elevation=columns["elevation__name"],
        mulls=columns["mulls"],
        weight=None if columns["weight_ug"] is None else Mass(columns["weight_ug"]),
        glass=None if panes is None else GlassPanes(panes, Length(thickness)),
        flags=tuple(columns["flags"]),
        note=columns["note"],
        row=columns["row"],
        **values,
    )


@lru_cache(maxsize=65_536)
def geometry_of_columns(columns: tuple[int | str | None, ...]) -> Geometry:
    """Return the geometry of one row read by `.values_list(*GEOMETRY_COLUMNS)`; repeats cost a look-up."""
    return Geometry._make(None if value == "" else value for value in columns)


def opening_columns(value: OpeningInput) -> dict[str, Any]:
    """Return the row's columns for a value, all but house and elevation."""
    glass = value.glass
    return {
        "mark": value.mark,
        **{f"{name}_nm": getattr(value, name).nm for name in _SIZES},
        **{f"{name}_nm": _nm(getattr(value, name)) for name in _OPTIONAL_LENGTHS},
        **{name: getattr(value, name) or "" for name in _CHOICES},
        "mulls": value.mulls,
        "weight_ug": None if value.weight is None else value.weight.ug,
        "glass_panes": None if glass is None else glass.panes,
        "glass_thickness_nm": None if glass is None else glass.thickness.nm,
        "flags": list(value.flags),
        "note": value.note,
        "row": value.row,
    }


def _length(nm: int | None) -> Length | None:
    return None if nm is None else Length(nm)


def _nm(length: Length | None) -> int | None:
    return None if length is None else length.nm
