"""Which openings one row of a schedule stands for, and everything that is wrong with it. Pure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import partial
from typing import Any

from openings.methods.load import load_method, load_methods
from openings.schedule.cells import Cell, cell_at, text_of
from openings.schedule.fields import (
    check_shape,
    expanded,
    read_bounded,
    read_choice,
    read_count,
    read_elevation,
    read_fin,
    read_flags,
    read_glass,
    read_mark,
    read_mulls,
    read_note,
    read_weight,
)
from openings.schedule.lengths import shown
from openings.schedule.row import DataRow, Frame, Row
from openings.schedule.sizes import Axis, read_sizes
from openings.schedule.words import (
    CORNERS,
    COUNT,
    ELEVATION,
    FINS,
    HEAD_FASTENERS,
    MARK,
    OVER_FINS,
    PANS,
)
from openings.takeoff.opening import OpeningInput
from projects.errors import BadValue
from projects.problems import Problem
from projects.quantities.length import ZERO_LENGTH, Length

UNPLACED = "Unplaced"
FIN_UNSAID, MULLS_NOTED, SHAPE_NOTED = "fin unsaid", "mulls noted", "shape noted"
HEIGHTS_AGREE_WITHIN = Length(1_587_500)  # 1/16 in: feet and millimetres of one height round differently
HIGHEST = Length.inches(2_400)
_BOUNDS = {
    "wall_depth": (Length.inches(1), Length.inches(24)),
    "offset": (ZERO_LENGTH, HIGHEST),
    "fastener_corner": (Length.inches(0.25), Length.inches(24)),
    "fastener_max": (Length.inches(1), Length.inches(48)),
}
# what the builder's own type column may say that is no rectangular window with a fin
_OTHER_KINDS = (
    (re.compile(r"\bdoors?\b", re.IGNORECASE), "Doors are not read."),
    (re.compile(r"\b(?:arch(?:ed)?|half[- ]round|round|oval|octagon|circle)\b", re.IGNORECASE),
     "Only rectangles are read."),
    (re.compile(r"\b(?:inserts?|replacement|masonry)\b", re.IGNORECASE),
     "Replacement and masonry units are not read."),
    (re.compile(r"\bskylights?\b", re.IGNORECASE), "Skylights are not read."),
)  # fmt: skip
_SAYS_MULLS = re.compile(r"\bmull", re.IGNORECASE)
_SAYS_SHAPE = re.compile(r"\b(?:arch(?:ed)?|half[- ]round|octagon|trapezoid|doors?)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class RowResult:
    """What came of a row: its marks as far as they were read, its openings or its problems, its remarks."""

    marks: tuple[str, ...]
    openings: tuple[OpeningInput, ...]
    problems: tuple[Problem, ...]
    remarks: tuple[str, ...]


def read_row(source: DataRow, frame: Frame) -> RowResult:
    """Return the row's openings, or every problem it has: a bad row yields no opening."""
    row = Row(source, frame)
    _refuse_other_kinds(row)
    elevation = row.take(ELEVATION, read_elevation) or source.face or UNPLACED
    count = row.take(COUNT, read_count) if row.states(COUNT) else 1
    marks = _marks(row, count)
    sizes = read_sizes(row)
    values = {**_choices(row), **_measures(row)}
    values["sill_height"] = _sill_height(row, sizes)
    _check_offset(row, count)
    openings: tuple[OpeningInput, ...] = ()
    if sizes is not None and not row.problems:
        _note_doubts(row, values)
        openings = _openings(marks, elevation=elevation, sizes=sizes, values=values | {"row": source.number})
    return RowResult(marks, openings, tuple(row.problems), tuple(row.remarks))


def _openings(
    marks: tuple[str, ...], *, elevation: str, sizes: tuple[Axis, Axis], values: dict[str, Any]
) -> tuple[OpeningInput, ...]:
    width, height = sizes
    return tuple(
        OpeningInput(
            mark=mark,
            elevation=elevation,
            unit_width=width.unit,
            unit_height=height.unit,
            ro_width=width.ro,
            ro_height=height.ro,
            **values,
        )
        for mark in marks
    )


def _refuse_other_kinds(row: Row) -> None:
    if row.source.doors:
        refused = BadValue(
            problem=f"The row stands under “{row.source.doors}”: doors are not read.",
            remedy="Take the doors out of the file, or put a heading above the windows.",
        )
        row.refuse("shape", refused, value=row.source.doors)
    for index in row.frame.layout.kinds:
        text = text_of(cell_at(row.source.cells, index))
        for pattern, words in _OTHER_KINDS:
            if pattern.search(text):
                remedy = "Take this row out of the file and work it out by hand."
                row.refuse("shape", BadValue(problem=words, remedy=remedy), value=text)
                return


def _marks(row: Row, count: int | None) -> tuple[str, ...]:
    mark = row.attempt(MARK, read_mark)
    if mark is None or count is None:
        return ()
    return row.attempt(MARK, lambda _: expanded(mark, count)) or ()


def _choices(row: Row) -> dict[str, Any]:
    """Return what the row overrides of the specification, None where it says nothing."""
    row.take("shape", check_shape)
    fin = row.take("fin", partial(read_fin, choices=FINS))
    if fin == "":
        row.remarks.append(FIN_UNSAID)
    methods = {code.casefold(): code for code in load_methods()}
    method = row.take("method", partial(read_choice, choices=methods, named="the method"))
    over_fin = row.take("over_fin", partial(_read_over_fin, method=method or row.frame.specification.method))
    return {
        "fin": fin or None,
        "corners": row.take("corners", partial(read_choice, choices=CORNERS, named="the fin corners")),
        "method": method,
        "over_fin": over_fin,
        "pan": row.take("pan", partial(read_choice, choices=PANS, named="the pan")),
        "head_fasteners": row.take(
            "head_fasteners", partial(read_choice, choices=HEAD_FASTENERS, named="the head fasteners")
        ),
        "flags": row.take("flags", read_flags) or (),
        "note": row.attempt("note", lambda _: read_note(_note(row))) or "",
    }


def _read_over_fin(cell: Cell, *, method: str) -> str:
    """Return the over-fin detail. Raises BadValue where there is none such, or the method can't have it."""
    over_fin = read_choice(cell, OVER_FINS, named="the over-fin detail")
    load_method(method).refuse_over_fin(over_fin)
    return over_fin


def _note(row: Row) -> str:
    """Return the note as typed; where several columns are notes, those that say something, joined."""
    cells = [text_of(cell_at(row.source.cells, index)) for index in row.frame.layout.notes]
    if len(cells) == 1:
        return cells[0]
    return "; ".join(text.strip() for text in cells if text.strip())


def _measures(row: Row) -> dict[str, Any]:
    """Return the row's own measures and weights, None where it says nothing."""
    lengths = {
        column: row.take(
            column, partial(read_bounded, reading=row.frame.reading(column), least=least, most=most)
        )
        for column, (least, most) in _BOUNDS.items()
    }
    return {
        **lengths,
        "mulls": row.take("mulls", read_mulls) or 0,
        "weight": row.take("weight_lb", partial(read_weight, reading=row.frame.reading("weight_lb"))),
        "glass": row.take("glass", partial(read_glass, reading=row.frame.reading("glass"))),
    }


def _sill_height(row: Row, sizes: tuple[Axis, Axis] | None) -> Length | None:
    """Return the RO's sill height; one that is not stated is the head height less the RO's height."""
    sill, head = (
        row.take(
            column, partial(read_bounded, reading=row.frame.reading(column), least=ZERO_LENGTH, most=HIGHEST)
        )
        for column in ("sill_height", "head_height")
    )
    if head is None or sizes is None:
        return sill
    below = head - sizes[1].ro
    if below < ZERO_LENGTH:
        problem = (
            f"The head height {shown(head)} is less than the rough opening's height {shown(sizes[1].ro)}."
        )
        row.refuse("head_height", BadValue(problem=problem, remedy="Measure both from finished grade."))
        return None
    if sill is None:
        return below
    if abs(sill.nm - below.nm) > HEIGHTS_AGREE_WITHIN.nm:
        problem = f"Sill height and RO height give a head at {shown(sill + sizes[1].ro)}, not {shown(head)}."
        remedy = "Correct one of the heights, or give only one of them."
        row.refuse("head_height", BadValue(problem=problem, remedy=remedy))
        return None
    return sill


def _check_offset(row: Row, count: int | None) -> None:
    if count is not None and count > 1 and row.states("offset"):
        refused = BadValue(
            problem=f"{count} openings can't all stand at one offset.",
            remedy="Give each opening a row of its own, or leave the offset empty.",
        )
        row.refuse("offset", refused)


def _note_doubts(row: Row, values: dict[str, Any]) -> None:
    note = values["note"]
    if _SAYS_MULLS.search(note) and not row.states("mulls"):
        row.remarks.append(MULLS_NOTED)
    if _SAYS_SHAPE.search(note) and not row.states("shape"):
        row.remarks.append(SHAPE_NOTED)
