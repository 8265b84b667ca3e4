"""Which row of a schedule is its header, and which column holds what. Pure."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from openpyxl.utils.cell import get_column_letter

from openings.schedule.cells import Cells, cell_at, is_blank, text_of
from openings.schedule.words import (
    COLUMNS,
    HEADERS,
    IGNORED,
    KIND,
    MARK,
    RO_HEIGHT,
    RO_SIZE,
    RO_WIDTH,
    SIZE,
    UNIT_HEIGHT,
    UNIT_SIZE,
    UNIT_WIDTH,
    UNITS,
    WEAK,
)
from projects.errors import BadValue
from projects.problems import Problem

MATCHED = 0
_SHARED = frozenset({"note", KIND})  # several columns may be one of these
_WIDTHS = frozenset({UNIT_WIDTH, RO_WIDTH, UNIT_SIZE, RO_SIZE, SIZE})
_HEIGHTS = frozenset({UNIT_HEIGHT, RO_HEIGHT, UNIT_SIZE, RO_SIZE, SIZE})
_LONGEST_HEADER = 200
_W, _H = r"w(?:idth)?", r"h(?:eight|gt|t)?"
_WIDTH_FIRST = re.compile(rf"\b{_W} ?(?:x|by) ?{_H}\b")
_HEIGHT_FIRST = re.compile(rf"\b{_H} ?(?:x|by) ?{_W}\b")
_INITIALS = re.compile(r"(?<=\b[a-z])\.(?=[a-z]\b)")


@dataclass(frozen=True, slots=True)
class Found:
    """What one header means: our column, how surely (0 matched by hand, 1 own name ...), its unit."""

    column: str
    rank: int
    unit: str = ""
    height_first: bool = False
    of_group: bool = False


@dataclass(frozen=True, slots=True)
class Layout:
    """A header row read: where each of our columns stands (from 0) and what the file calls it."""

    row: int
    headers: tuple[str, ...]
    columns: Mapping[str, int] = field(default_factory=dict)
    notes: tuple[int, ...] = ()
    kinds: tuple[int, ...] = ()
    units: Mapping[str, str] = field(default_factory=dict)
    height_first: frozenset[str] = frozenset()
    weak: tuple[str, ...] = ()
    unmatched: tuple[str, ...] = ()
    doubled: tuple[Problem, ...] = ()
    plain_rows: tuple[tuple[str, ...], ...] = ()

    @property
    def first(self) -> int:
        """Return the column (from 0) in which the table begins."""
        return next((index for index, header in enumerate(self.headers) if header), 0)

    @property
    def matched(self) -> dict[str, str]:
        """Return our column -> the file's header."""
        return {column: self.headers[index] for column, index in self.columns.items()}

    def repeats(self, cells: Cells) -> bool:
        """Return whether a row is the header (or its group row) again, as after a page break."""
        return tuple(plain(text_of(cell)) for cell in cells) in self.plain_rows

    @property
    def lacks(self) -> tuple[str, ...]:
        """Return what a schedule cannot do without and this header has not: mark, width, height."""
        names = self.columns.keys()
        missing = {MARK: MARK in names, "width": bool(_WIDTHS & names), "height": bool(_HEIGHTS & names)}
        return tuple(name for name, present in missing.items() if not present)


def plain(header: str) -> str:
    """Return a header without case, marks and line breaks: `R.O. (W x H)` is `ro wxh`, `No.` is `no`."""
    return _plain(header[:_LONGEST_HEADER])


@lru_cache(maxsize=4096)
def _plain(header: str) -> str:
    text = header.casefold().replace("×", " x ").replace("#", " no ").replace("'", "").replace("’", "")
    text = _INITIALS.sub("", text)
    text = " ".join(re.sub(r"[\W_]+", " ", text).split())
    text = re.sub(r"\br o\b", "ro", text)
    return _HEIGHT_FIRST.sub("hxw", _WIDTH_FIRST.sub("wxh", text))


def find(header: str, match: Mapping[str, str]) -> Found | None:
    """Return what `header` means, or None. `match` maps plain headers to our columns."""
    name = plain(header)
    height_first = "hxw" in name
    name = name.replace("hxw", "wxh")
    words = name.split()
    unit = UNITS.get(words[-1], "") if words else ""
    if plain(header) in match:
        column = match[plain(header)]
        return None if column in IGNORED else Found(column, MATCHED, unit, height_first)
    for candidate, its_unit in ((name, ""), (" ".join(words[:-1]) if unit else "", unit)):
        if candidate in HEADERS:
            column, rank = HEADERS[candidate]
            return Found(column, rank, its_unit, height_first)
    return None


def matches(match: Mapping[str, str]) -> dict[str, str]:
    """Return the hand-made matches with plain headers. Raises BadValue at a name that is none of ours."""
    known = {}
    for theirs, ours in match.items():
        column = "_".join(ours.casefold().replace("_", " ").split())
        if column not in COLUMNS and column not in IGNORED:
            raise BadValue(
                problem=f"“{ours}” is no column of a window schedule.",
                remedy=f"Match “{theirs}” to mark, unit_width, ro_size or another column, or to ignore.",
                value=ours,
            )
        known[plain(theirs)] = column
    return known


def known_headers(cells: Sequence[str], match: Mapping[str, str]) -> int:
    """Return how many of the cells name a column."""
    return sum(find(cell, match) is not None for cell in cells)


def layout_of(row: int, cells: Cells, *, above: Cells, match: Mapping[str, str]) -> Layout:
    """Return the row read as a header; group names in the row above (ROUGH OPENING) join those below."""
    texts = [" ".join(text_of(cell).split()) for cell in cells]
    groups = _groups(texts, above)
    width = max(len(texts), len(groups))
    texts += [""] * (width - len(texts))
    groups = groups or [("", "")] * width
    found = [_meaning(text, group, match=match) for text, group in zip(texts, groups, strict=True)]
    of_groups = any(meaning is not None and meaning.of_group for meaning in found)
    headers = [
        _shown(text, group, meaning=meaning, of_groups=of_groups)
        for text, group, meaning in zip(texts, groups, found, strict=True)
    ]
    rows = (above, cells) if of_groups else (cells,)
    plain_rows = tuple(tuple(plain(text_of(cell)) for cell in row_cells) for row_cells in rows)
    return _layout(row, headers=tuple(headers), found=found, plain_rows=plain_rows)


def _layout(
    row: int,
    *,
    headers: tuple[str, ...],
    found: Sequence[Found | None],
    plain_rows: tuple[tuple[str, ...], ...],
) -> Layout:
    kept, doubled = _chosen(row, headers=headers, found=found)
    by_index = {index: meaning for index, meaning in enumerate(found) if meaning and index in kept}
    columns: dict[str, int] = {}
    for index, meaning in by_index.items():
        if meaning.column != KIND:
            columns.setdefault(meaning.column, index)
    single = {index: meaning for index, meaning in by_index.items() if meaning.column not in _SHARED}
    return Layout(
        row=row,
        headers=headers,
        columns=columns,
        notes=tuple(index for index, meaning in by_index.items() if meaning.column == "note"),
        kinds=tuple(index for index, meaning in by_index.items() if meaning.column == KIND),
        units={meaning.column: meaning.unit for meaning in single.values() if meaning.unit},
        height_first=frozenset(meaning.column for meaning in single.values() if meaning.height_first),
        weak=tuple(
            headers[index]
            for index, meaning in single.items()
            if meaning.rank == WEAK and meaning.column in (UNIT_WIDTH, UNIT_HEIGHT, UNIT_SIZE)
        ),
        unmatched=tuple(
            header
            for index, header in enumerate(headers)
            if header and (index not in by_index or by_index[index].column == KIND)
        ),
        doubled=doubled,
        plain_rows=plain_rows,
    )


def _groups(texts: Sequence[str], above: Cells) -> list[tuple[str, str]]:
    """Return per column the group name carried from the left and the cell just above; [] below a title."""
    stated = [index for index, cell in enumerate(above) if not is_blank(cell)]
    first = next((index for index, text in enumerate(texts) if text), 0)
    if not stated or (len(stated) == 1 and stated[0] <= first):
        return []
    groups, carried = [], ""
    for index in range(max(len(texts), len(above))):
        own = " ".join(text_of(cell_at(above, index)).split())
        carried = own or carried
        groups.append((carried, own))
    return groups


def _meaning(text: str, group: tuple[str, str], *, match: Mapping[str, str]) -> Found | None:
    """Return what a header means with its group's name, else by itself; a blank one is its group's."""
    carried, own = group
    joined = f"{carried} {text}" if carried and text else own
    if meaning := find(joined, match):
        return replace(meaning, of_group=True)
    return find(text, match)


def _shown(text: str, group: tuple[str, str], *, meaning: Found | None, of_groups: bool) -> str:
    """Return the header as the file would say it on one line."""
    carried, own = group
    if meaning is not None and meaning.of_group:
        return f"{carried} {text}" if text else own
    return f"{own} {text}".strip() if of_groups and meaning is None else text


def _chosen(
    row: int, *, headers: Sequence[str], found: Sequence[Found | None]
) -> tuple[frozenset[int], tuple[Problem, ...]]:
    """Return the columns that are read, the surest per meaning, and a problem where two are as sure."""
    by_column: dict[str, list[int]] = {}
    for index, meaning in enumerate(found):
        if meaning is not None:
            by_column.setdefault(meaning.column, []).append(index)
    kept: set[int] = set()
    doubled = []
    for column, indexes in by_column.items():
        if column in _SHARED:
            kept.update(indexes)
            continue
        ranks = {index: meaning.rank for index in indexes if (meaning := found[index]) is not None}
        best = [index for index in indexes if ranks[index] == min(ranks.values())]
        kept.add(best[0])
        if len(best) > 1:
            doubled.append(_doubled(row, column, headers={index: headers[index] for index in best}))
    return frozenset(kept), tuple(doubled)


def _doubled(row: int, column: str, *, headers: Mapping[int, str]) -> Problem:
    named = " and ".join(
        f"“{header}” (column {get_column_letter(index + 1)})" for index, header in headers.items()
    )
    alike = len({plain(header) for header in headers.values()}) == 1
    return Problem(
        problem=f"{named} both say {column}.",
        remedy="Rename one of them in the file."
        if alike
        else "Match one of them by hand, the other to ignore.",
        row=row,
        column=column,
    )
