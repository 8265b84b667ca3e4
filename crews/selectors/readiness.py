"""What is still missing before a crew may start on an elevation, in words."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from openings.methods.load import load_method
from openings.selectors import live_openings, specification_in_force
from openings.selectors.windows import accepted_openings
from projects.models import Company, Elevation

MISSING = {
    "framing_ready": "framing is not done",
    "sheathing_ready": "sheathing is not done",
    "roof_dried_in": "the roof is not dried in",
    "wrb_ready": "the WRB is not on",
    "access_ready": "the wall can't be reached safely",
}
WRB_TICK = "wrb_ready"
MOST_MARKS = 12


def missing_of(face: Elevation, methods: Iterable[str], no_window: Sequence[str]) -> tuple[str, ...]:
    """Return what is missing, in words; the WRB only where one of `methods` wants it before the window.

    `no_window` are the marks of the elevation's openings without an accepted window.
    """
    wants_wrb = any(load_method(code).wrb_before for code in set(methods))
    ticks = tuple(
        words
        for tick, words in MISSING.items()
        if not getattr(face, tick) and (tick != WRB_TICK or wants_wrb)
    )
    return (*ticks, *windows_told(no_window))


def windows_told(marks: Sequence[str]) -> tuple[str, ...]:
    """Return which windows are not accepted, in words, none where all are."""
    if not marks:
        return ()
    named = ", ".join(marks[:MOST_MARKS]) + (", ..." if len(marks) > MOST_MARKS else "")
    are = "1 window is" if len(marks) == 1 else f"{len(marks)} windows are"
    return (f"{are} not accepted: {named}",)


def marks_without_window(company: Company, elevations: Sequence[Elevation]) -> dict[int, list[str]]:
    """Return by elevation the marks of its openings without an accepted window. Two queries for all."""
    accepted = accepted_openings(company, elevations)
    openings = live_openings(company).filter(elevation__in=[face.pk for face in elevations])
    found: dict[int, list[str]] = {face.pk: [] for face in elevations}
    for pk, face, mark in openings.order_by("row", "id").values_list("pk", "elevation_id", "mark"):
        if pk not in accepted:
            found[face].append(mark)
    return found


def not_ready(face: Elevation) -> tuple[str, ...]:
    """Return one sentence on what the elevation lacks, none where it is ready. Four queries."""
    chosen = list(live_openings(face.company).filter(elevation=face).order_by("row", "id"))
    standing = specification_in_force(face.house.project).specification.method
    accepted = accepted_openings(face.company, [face])
    no_window = [row.mark for row in chosen if row.pk not in accepted]
    return sentence(face, missing_of(face, [row.method or standing for row in chosen], no_window))


def sentence(face: Elevation, missing: Collection[str]) -> tuple[str, ...]:
    """Return what is missing as one sentence, none without."""
    return (f"{face.name} is not ready: {'; '.join(missing)}.",) if missing else ()
