"""What is still missing before a crew may start on an elevation, in words."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from openings.methods.load import load_method
from openings.selectors import live_openings, specification_in_force
from projects.models import Elevation

MISSING = {
    "framing_ready": "framing is not done",
    "sheathing_ready": "sheathing is not done",
    "roof_dried_in": "the roof is not dried in",
    "wrb_ready": "the WRB is not on",
    "access_ready": "the wall can't be reached safely",
    "windows_accepted": "the windows are not counted and accepted",
}
WRB_TICK = "wrb_ready"


def missing_ticks(face: Elevation, methods: Iterable[str]) -> tuple[str, ...]:
    """Return what is missing, in words; the WRB only where one of `methods` wants it before the window."""
    wants_wrb = any(load_method(code).wrb_before for code in set(methods))
    return tuple(
        words
        for tick, words in MISSING.items()
        if not getattr(face, tick) and (tick != WRB_TICK or wants_wrb)
    )


def not_ready(face: Elevation) -> tuple[str, ...]:
    """Return one sentence on what the elevation lacks, none where it is ready. Three queries."""
    chosen = live_openings(face.company).filter(elevation=face).values_list("method", flat=True)
    standing = specification_in_force(face.house.project).specification.method
    return sentence(face, missing_ticks(face, [method or standing for method in chosen]))


def sentence(face: Elevation, missing: Collection[str]) -> tuple[str, ...]:
    """Return the missing ticks as one sentence, none without."""
    return (f"{face.name} is not ready: {'; '.join(missing)}.",) if missing else ()
