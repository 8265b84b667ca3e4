"""Which cells a worksheet's XML and its table of strings hold, read in one pass. Pure."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Protocol
from xml.parsers import expat

from openings.schedule.cells import DATE, ERROR, FORMULA, Cell, Cells, Spoilt, trimmed
from openings.schedule.limits import (
    LAST_SHEET_ROW,
    MAX_CELLS,
    MAX_COLUMNS,
    too_many_cells,
    too_many_columns,
    too_many_rows,
    unsafe_workbook,
)

_CHUNK = 64 * 2**10
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_REFERENCE = re.compile(r"([A-Z]{1,3})[0-9]{1,7}")
_MERGE = re.compile(
    rb"<(?:\w{1,20}:)?mergeCell\s[^<>]{0,80}?ref=\"([A-Z]{1,3})([0-9]{1,7}):[A-Z]{1,3}([0-9]{1,7})\""
)
_MOST_MERGED_CELLS = 50_000

ReadNumber = Callable[[str, int], Cell]


class _Parts(Protocol):
    """What listens to the XML's elements."""

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        """An element begins."""

    def text(self, data: str) -> None:
        """Text of the element that is open."""

    def end(self, name: str) -> None:
        """An element ends."""


class _Text:
    """Gathers the text of `t` elements (not of their phonetic twins, `rPh`) and of values."""

    def __init__(self) -> None:
        self._pieces: list[str] = []
        self._listens = self._phonetic = False

    def start(self, name: str) -> None:
        """An element begins: listen in a text or a value."""
        if name == "rPh":
            self._phonetic = True
        elif name in ("t", "v"):
            self._listens = not self._phonetic

    def add(self, data: str) -> None:
        """Keep text where it counts."""
        if self._listens:
            self._pieces.append(data)

    def end(self, name: str) -> None:
        """An element ends: listen no more."""
        if name == "rPh":
            self._phonetic = False
        elif name in ("t", "v"):
            self._listens = False

    def taken(self) -> str:
        """Return what was gathered and start anew."""
        text = "".join(self._pieces)
        self._pieces.clear()
        return text


class _Strings:
    """Listens to the table of strings."""

    def __init__(self) -> None:
        self.strings: list[str] = []
        self._text = _Text()
        self.text = self._text.add

    def start(self, name: str, _attributes: Mapping[str, str]) -> None:
        """An element begins."""
        self._text.start(name)

    def end(self, name: str) -> None:
        """An element ends; a string item is complete."""
        self._text.end(name)
        if name == "si":
            if len(self.strings) >= MAX_CELLS:
                raise too_many_cells()
            self.strings.append(unescaped(self._text.taken()))


class _Sheet:
    """Listens to a worksheet; finished rows wait in `rows` until they are taken."""

    def __init__(self, strings: Sequence[str], read_number: ReadNumber) -> None:
        self.rows: list[tuple[int, Cells]] = []
        self._strings, self._read_number = strings, read_number
        self._number = self._column = self._style = 0
        self._kind = ""
        self._has_formula = False
        self._cells: list[Cell] = []
        self._text = _Text()
        self.text = self._text.add

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        """An element begins: a row, a cell, a formula or a value."""
        if name == "c":
            self._start_cell(attributes)
        elif name == "row":
            self._number = int(attributes.get("r", self._number + 1))
            self._cells, self._column = [], -1
            if self._number > LAST_SHEET_ROW:
                raise too_many_rows()
        elif name == "f":
            self._has_formula = True
        else:
            self._text.start(name)

    def end(self, name: str) -> None:
        """An element ends: a cell or a row is complete."""
        if name == "c":
            self._end_cell()
        elif name == "row":
            self.rows.append((self._number, trimmed(self._cells)))
        else:
            self._text.end(name)

    def _start_cell(self, attributes: Mapping[str, str]) -> None:
        reference = _REFERENCE.fullmatch(attributes.get("r", ""))
        self._column = column_index(reference[1]) if reference else self._column + 1
        self._kind = attributes.get("t", "n")
        self._style = int(attributes.get("s", 0))
        self._has_formula = False
        self._text.taken()

    def _end_cell(self) -> None:
        value = self._value(self._text.taken())
        if value == "":
            return
        if self._column >= MAX_COLUMNS:
            raise too_many_columns(self._number)
        self._cells.extend([""] * (self._column + 1 - len(self._cells)))
        self._cells[self._column] = value

    def _value(self, text: str) -> Cell:
        if self._kind in ("str", "inlineStr"):
            return unescaped(text)
        if not text:
            return Spoilt("", FORMULA) if self._has_formula else ""
        if self._kind == "n":
            return self._read_number(text, self._style)
        if self._kind == "s":
            return self._strings[int(text)]
        if self._kind == "b":
            return "FALSE" if text == "0" else "TRUE"
        return Spoilt(text, DATE if self._kind == "d" else ERROR)


def strings_of(source: bytes) -> list[str]:
    """Return the workbook's table of strings, rich text without its looks. Raises FileRefused: broken."""
    listener = _Strings()
    for _ in _listened(source, listener):
        pass
    return listener.strings


def rows_of(source: bytes, *, strings: Sequence[str], read_number: ReadNumber) -> Iterator[tuple[int, Cells]]:
    """Yield row number and cells of the rows that the sheet states, in its order.

    `read_number` makes a cell from a number's text and its style. Raises FileRefused: broken, or too large.
    """
    listener = _Sheet(strings, read_number)
    for _ in _listened(source, listener):
        yield from listener.rows
        listener.rows.clear()


def merged_downwards(source: bytes) -> dict[int, dict[int, int]]:
    """Return row -> column (from 0) -> the row above whose cell is merged over it.

    Every repeat of the pattern is bounded, so that broken XML cannot make it slow.
    """
    merged: dict[int, dict[int, int]] = defaultdict(dict)
    left = _MOST_MERGED_CELLS
    for found in _MERGE.finditer(source):
        column, top = column_index(found[1].decode()), int(found[2])
        for row in range(top + 1, min(int(found[3]), top + left) + 1):
            merged[row][column] = top
            left -= 1
    return dict(merged)


def unescaped(text: str) -> str:
    """Return a workbook's text with its escapes, `_x000D_`, as the characters they stand for."""
    return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), text) if "_x" in text else text


@lru_cache(maxsize=1024)
def column_index(letters: str) -> int:
    """Return a column's number from 0: A is 0, AA is 26."""
    index = 0
    for letter in letters:
        index = index * 26 + ord(letter) - ord("A") + 1
    return index - 1


def _listened(source: bytes, listener: _Parts) -> Iterator[None]:
    """Feed the XML in pieces and yield after each; the archive has refused every document type."""
    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler = lambda name, attributes: listener.start(_local(name), attributes)
    parser.EndElementHandler = lambda name: listener.end(_local(name))
    parser.CharacterDataHandler = listener.text
    view = memoryview(source)
    try:
        for start in range(0, len(source), _CHUNK):
            parser.Parse(view[start : start + _CHUNK], False)
            yield
        parser.Parse(b"", True)
        yield
    except (expat.ExpatError, ValueError, IndexError) as error:
        # ValueError, IndexError: a row, style or string number that is none
        raise unsafe_workbook() from error


def _local(name: str) -> str:
    return name.rpartition(":")[2]
