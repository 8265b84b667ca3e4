"""Where a schedule's header and data rows are, and what its other rows say. Pure."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain

from openings.schedule.cells import Cells, cell_at, is_blank, text_of
from openings.schedule.files import Rows
from openings.schedule.headers import Layout, layout_of, plain
from openings.schedule.headings import face_name, is_total, lone_text, names_doors
from openings.schedule.limits import MAX_CELLS, MAX_ROWS, too_many_cells, too_many_rows
from openings.schedule.row import DataRow
from openings.schedule.words import COUNT, MARK

_MOST_TITLES, _LONGEST_TITLE = 100, 500
_TITLE_UNIT = re.compile(
    r"\b(?:dimensions?|sizes?|measurements?|measures?|lengths?|units?)\b[^.;]{0,40}?"
    r"\b(?P<unit>mm|millimet(?:re|er)s?|cm|centimet(?:re|er)s?)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Search:
    """The header that was found, or the row that looks most like one (`layout.lacks` says what it has not).

    `pending` is the row below the header where it had to be looked at; `title_unit` is mm or cm where a title
    says that all sizes are.
    """

    layout: Layout | None
    pending: tuple[tuple[int, Cells], ...] = ()
    title_unit: str = ""


@dataclass(slots=True)
class Collected:
    """The rows below the header, and where the skipped ones were."""

    rows: list[DataRow] = field(default_factory=list)
    headings: list[tuple[int, str]] = field(default_factory=list)
    totals: list[int] = field(default_factory=list)
    repeated: list[int] = field(default_factory=list)


def find_header(rows: Rows, match: Mapping[str, str]) -> Search:
    """Return the first row that has a mark and a size, `rows` read up to it; else the likeliest row."""
    above: Cells = ()
    last = 0
    best: tuple[tuple[int, int], Layout] | None = None
    titles: list[str] = []
    for row, (number, cells) in enumerate(rows):
        if row > MAX_ROWS:
            raise too_many_rows()
        if cells:
            layout = layout_of(number, cells, above=above if number == last + 1 else (), match=match)
            if not layout.lacks:
                return _with_row_below(layout, cells, rows=rows, match=match, title_unit=_title_unit(titles))
            rank = (len(layout.columns) + len(layout.kinds), sum(not is_blank(cell) for cell in cells))
            if best is None or rank > best[0]:
                best = rank, layout
            titles.extend(text_of(cell)[:_LONGEST_TITLE] for cell in cells if row < _MOST_TITLES)
        above, last = cells, number
    return Search(best[1] if best else None)


def _with_row_below(
    layout: Layout, cells: Cells, *, rows: Rows, match: Mapping[str, str], title_unit: str
) -> Search:
    """Return the header, together with a row of sub-headers below it: WIDTH, HEIGHT under ROUGH OPENING."""
    below = next(rows, None)
    if below is None:
        return Search(layout, (), title_unit)
    both = layout_of(below[0], below[1], above=cells, match=match)
    read = {*both.columns.values()}
    sub_headers = [index for index, cell in enumerate(below[1]) if not is_blank(cell) and index in read]
    mark = plain(text_of(cell_at(below[1], layout.columns[MARK])))
    if not both.lacks and len(sub_headers) >= 2 and mark in ("", plain(layout.matched[MARK])):
        return Search(both, (), title_unit)
    return Search(layout, (below,), title_unit)


def _title_unit(titles: Sequence[str]) -> str:
    for title in titles:
        if found := _TITLE_UNIT.search(title):
            return "cm" if found["unit"].lower().startswith("c") else "mm"
    return ""


def collect(rows: Rows, search: Search) -> Collected:
    """Return the data rows below the header with the face that their headings set.

    Raises FileRefused beyond the row limit, or at a broken part of the file.
    """
    assert search.layout is not None
    layout, collected = search.layout, Collected()
    face = doors = ""
    stated = cells_read = 0
    for number, cells in chain(search.pending, rows):
        if not cells:
            continue
        stated += 1
        cells_read += len(cells)
        if stated > MAX_ROWS:
            raise too_many_rows()
        if cells_read > MAX_CELLS:
            raise too_many_cells()
        lone = lone_text(cells, layout.first)
        if layout.repeats(cells):
            collected.repeated.append(number)
        elif _is_total(cells, layout):
            collected.totals.append(number)
        elif not lone:
            collected.rows.append(DataRow(number, cells, face, doors))
        elif named := face_name(lone):
            face, doors = named, ""
        else:
            doors = _doors_from(lone, doors)
            collected.headings.append((number, lone))
    return collected


def _is_total(cells: Cells, layout: Layout) -> bool:
    """Return whether the mark, or the first text where there is none, says total; or a count stands alone."""
    stated = [index for index, cell in enumerate(cells) if not is_blank(cell)]
    if stated == [layout.columns.get(COUNT)]:
        return True
    mark = cell_at(cells, layout.columns[MARK])
    if is_blank(mark):
        mark = next((cell for cell in cells if not is_blank(cell)), "")
    return is_total(text_of(mark))


def _doors_from(heading: str, doors: str) -> str:
    """Return the heading of doors that the rows below stand under; a heading of windows ends it."""
    if names_doors(heading):
        return heading
    return "" if "window" in heading.casefold() else doors
