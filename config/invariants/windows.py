"""What must hold of windows: whichever is accepted was counted before, with the same size on its label."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from config.invariants.report import Search, searched
from openings.models import WindowRecord
from openings.windows.standing import Kind
from projects.models import Company


def are_counted(company: Company) -> Search:
    """Search the records of each window, in their order."""
    rows = WindowRecord.objects.of(company).select_related("opening__house", "takes_back")
    by_opening = groupby(rows.order_by("opening", "number"), key=lambda row: row.opening_id)
    return searched(
        (f"window {records[0].opening} of {records[0].opening.house.code}", _faults(records))
        for records in (list(group) for _, group in by_opening)
    )


def _faults(records: Sequence[WindowRecord]) -> Iterator[str]:
    undone = {row.takes_back_id for row in records if row.takes_back_id}
    counted: set[tuple[int | None, int | None]] = set()
    for number, row in enumerate(records, 1):
        size = (row.width_nm, row.height_nm)
        if row.number != number:
            yield f"has record {row.number} where {number} comes"
        if row.takes_back and row.takes_back.opening_id != row.opening_id:
            yield f"takes back a record of another window at {number}"
        if row.pk in undone:
            continue
        if row.kind == Kind.COUNTED:
            counted.add(size)
        if row.kind == Kind.ACCEPTED and size not in counted:
            yield f"is accepted at record {number} in a size that nobody counted"
