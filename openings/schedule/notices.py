"""What is worth knowing about how a schedule was read, each thing told once with its rows. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from openings.schedule.collect import Collected
from openings.schedule.headers import Layout
from openings.schedule.rows import FIN_UNSAID, MULLS_NOTED, SHAPE_NOTED
from openings.schedule.sizes import CALL_SIZE, WIDE_GAP

UNPLACED_ROWS = "unplaced"
_MOST_ROWS = 8
_MOST_HEADINGS = 20
_REMARKS: Mapping[str, str] = {
    UNPLACED_ROWS: "{rows}: no elevation is named: Unplaced. Nothing unplaced can be assigned.",
    FIN_UNSAID: "{rows}: the fin is there but its kind is not said; the specification's holds.",
    MULLS_NOTED: "{rows}: the note speaks of mulls, but no mull joints are given: none are counted.",
    SHAPE_NOTED: "{rows}: the note speaks of another shape; a rectangle is taken off. Look at it.",
    WIDE_GAP: "{rows}: the rough opening exceeds the unit by more than 3 in. Look at it.",
}


def row_list(rows: Sequence[int]) -> str:
    """Return the rows in words: Row 5; Rows 5, 6 and 9; the first few of many and how many more."""
    if len(rows) == 1:
        return f"Row {rows[0]}"
    named = [str(row) for row in rows[:_MOST_ROWS]]
    last = named.pop() if len(rows) <= _MOST_ROWS else f"{len(rows) - _MOST_ROWS:,} more"
    return f"Rows {', '.join(named)} and {last}"


def layout_notices(layout: Layout, *, title_unit: str) -> list[str]:
    """Return what the header leaves open: columns not read, widths that may be either, units."""
    notices = []
    if layout.unmatched:
        notices.append(f"Columns that are not read: {', '.join(layout.unmatched)}.")
    if layout.weak:
        named = " and ".join(f"“{header}”" for header in layout.weak)
        notices.append(
            f"{named} are read as the unit's frame size; match them where they are the rough opening's."
        )
    if title_unit:
        notices.append(f"A title says {title_unit}: numbers without a unit are {title_unit}.")
    for column, unit in layout.units.items():
        if unit not in ("in", "lb", title_unit):
            notices.append(f"“{layout.matched[column]}”: numbers without a unit are {unit}.")
    for column in sorted(layout.height_first):
        notices.append(f"“{layout.matched[column]}” is read with the height first.")
    return notices


def skipped_notices(collected: Collected) -> list[str]:
    """Return which rows were no openings: totals, repeated headers, headings that name no face."""
    notices = []
    if collected.totals:
        notices.append(f"{row_list(collected.totals)}: a total, not read.")
    if collected.repeated:
        notices.append(f"{row_list(collected.repeated)}: the header again, not read.")
    for row, heading in collected.headings[:_MOST_HEADINGS]:
        notices.append(f"Row {row}: “{heading[:200]}” stands alone and names no face; read as a heading.")
    if len(collected.headings) > _MOST_HEADINGS:
        notices.append(f"{len(collected.headings) - _MOST_HEADINGS:,} more headings name no face.")
    return notices


def remark_notices(remarks: Iterable[tuple[int, str]], *, call_size_is: str) -> list[str]:
    """Return the remarks of all rows, each told once; call sizes echo what they mean."""
    rows: dict[str, list[int]] = {}
    for row, remark in remarks:
        rows.setdefault(remark, []).append(row)
    notices = []
    if CALL_SIZE in rows:
        meant = "the rough opening" if call_size_is == "ro" else "the unit"
        notices.append(f"Call sizes are read as the size of {meant} (call_size_is = {call_size_is}).")
    notices += [words.format(rows=row_list(rows[key])) for key, words in _REMARKS.items() if key in rows]
    return notices
