"""Which unit and rough opening a row's sizes give, and where they contradict each other. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

from openings.schedule.lengths import Pair, read_call_size, read_pair, read_side, shown
from openings.schedule.row import Row
from openings.schedule.words import (
    RO_HEIGHT,
    RO_SIZE,
    RO_WIDTH,
    SIZE,
    UNIT_HEIGHT,
    UNIT_SIZE,
    UNIT_WIDTH,
)
from openings.takeoff.opening import LARGEST, SMALLEST
from projects.errors import BadValue
from projects.quantities.length import Length

UNIT, RO = "unit", "ro"
CALL_SIZE, WIDE_GAP = "call size", "wide gap"
NOTABLE_GAP = Length.inches(3)
WIDEST_GAP = Length.inches(12)
SIZE_COLUMNS = {
    UNIT_WIDTH: (UNIT, "width"),
    UNIT_HEIGHT: (UNIT, "height"),
    RO_WIDTH: (RO, "width"),
    RO_HEIGHT: (RO, "height"),
}


@dataclass(frozen=True, slots=True)
class Stated:
    """One stated length, and the column it came from."""

    length: Length
    column: str


class SizeRefused(BadValue):
    """A size that cannot stand; `column` is where to look."""

    def __init__(self, *, column: str, problem: str, remedy: str) -> None:
        """Keep the column beside what is wrong and what to do."""
        super().__init__(problem=problem, remedy=remedy)
        self.column = column


@dataclass(frozen=True, slots=True)
class Axis:
    """The unit's size and the rough opening's on one axis."""

    unit: Length
    ro: Length


def read_sizes(row: Row) -> tuple[Axis, Axis] | None:
    """Return width and height of the unit and its rough opening; None where the row was refused for them."""
    before = len(row.problems)
    lengths = {
        column: Stated(length, column)
        for column, (_, axis) in SIZE_COLUMNS.items()
        if (length := row.take(column, partial(read_side, reading=row.frame.reading(column), side=axis[0])))
        is not None
    }
    pairs = {
        column: pair
        for column, read in ((UNIT_SIZE, read_pair), (RO_SIZE, read_pair), (SIZE, read_call_size))
        if (pair := row.take(column, partial(read, reading=row.frame.reading(column)))) is not None
    }
    if SIZE in pairs:
        row.remarks.append(CALL_SIZE)
    refused = {problem.column for problem in row.problems[before:]}
    stated = stated_sizes(lengths, pairs, call_size_is=row.frame.specification.call_size_is)
    missing = {_column_of(row, axis) for axis in ("width", "height")}
    if not stated and not refused and len(missing) == 1:
        row.refuse(missing.pop(), _missing("width and height"))
        return None
    axes = [
        None if refused & _columns_of(axis) else _axis(row, axis, stated=stated)
        for axis in ("width", "height")
    ]
    if axes[0] is None or axes[1] is None:
        return None
    if any(axis.ro - axis.unit > NOTABLE_GAP for axis in axes if axis is not None):
        row.remarks.append(WIDE_GAP)
    return axes[0], axes[1]


def _axis(row: Row, axis: str, *, stated: Mapping[tuple[str, str], list[Stated]]) -> Axis | None:
    try:
        axis_sizes = axis_of(axis, stated, clearance=row.frame.specification.clearance)
    except SizeRefused as refused:
        row.refuse(refused.column, refused)
        return None
    if axis_sizes is None:
        row.refuse(_column_of(row, axis), _missing(axis))
    return axis_sizes


def _columns_of(axis: str) -> set[str | None]:
    singles = [column for column, (_, its_axis) in SIZE_COLUMNS.items() if its_axis == axis]
    return {UNIT_SIZE, RO_SIZE, SIZE, *singles}


def _column_of(row: Row, axis: str) -> str:
    """Return the column in which the file would state a size on this axis."""
    columns = row.frame.layout.columns
    singles = [column for column, (_, its_axis) in SIZE_COLUMNS.items() if its_axis == axis]
    return next((column for column in (*singles, UNIT_SIZE, RO_SIZE, SIZE) if column in columns), singles[0])


def _missing(what: str) -> BadValue:
    are = "are" if " and " in what else "is"
    return BadValue(
        problem=f"The {what} {are} missing.", remedy=f"Give the {what} of the unit or of the rough opening."
    )


def stated_sizes(
    lengths: Mapping[str, Stated], pairs: Mapping[str, Pair], *, call_size_is: str
) -> dict[tuple[str, str], list[Stated]]:
    """Return what is stated per (unit or ro, width or height), in the order of the columns."""
    stated: dict[tuple[str, str], list[Stated]] = {}
    for column, length in lengths.items():
        stated.setdefault(SIZE_COLUMNS[column], []).append(length)
    for column, pair in pairs.items():
        kind = {UNIT_SIZE: UNIT, RO_SIZE: RO, SIZE: call_size_is}[column]
        stated.setdefault((kind, "width"), []).append(Stated(pair.width, column))
        stated.setdefault((kind, "height"), []).append(Stated(pair.height, column))
    return stated


def axis_of(
    axis: str,
    stated: Mapping[tuple[str, str], list[Stated]],
    *,
    clearance: Length,
) -> Axis | None:
    """Return unit and rough opening on one axis: RO = unit + clearance where only one is stated.

    None where neither is. Raises SizeRefused.
    """
    unit = _agreed(axis, stated.get((UNIT, axis), []))
    ro = _agreed(axis, stated.get((RO, axis), []))
    if unit is not None:
        _check_range(axis, unit, length=unit.length, most=LARGEST)
    if ro is not None:
        _check_range(axis, ro, length=ro.length, most=LARGEST + max(clearance, WIDEST_GAP))
    if unit is not None and ro is not None:
        _check_gap(axis, unit=unit, ro=ro)
        return Axis(unit.length, ro.length)
    if unit is not None:
        return Axis(unit.length, unit.length + clearance)
    if ro is None:
        return None
    _check_range(axis, ro, length=ro.length - clearance, most=LARGEST)
    return Axis(ro.length - clearance, ro.length)


def _agreed(axis: str, stated: list[Stated]) -> Stated | None:
    for other in stated[1:]:
        if other.length != stated[0].length:
            raise SizeRefused(
                column=other.column,
                problem=f"The {axis} {shown(other.length)} disagrees with {shown(stated[0].length)} "
                f"in {stated[0].column}.",
                remedy="Correct one of the two, or leave one of them empty.",
            )
    return stated[0] if stated else None


def _check_range(axis: str, stated: Stated, *, length: Length, most: Length) -> None:
    if SMALLEST <= length <= most:
        return
    side = "below the smallest unit, 6 in" if length < SMALLEST else "above the largest unit, 240 in"
    raise SizeRefused(
        column=stated.column,
        problem=f"The {axis} {length.in_inches:.6g} in is {side}.",
        remedy="Write 914 mm, 91.4 cm or 3'-0\" where it is not inches.",
    )


def _check_gap(axis: str, *, unit: Stated, ro: Stated) -> None:
    if ro.length < unit.length:
        raise SizeRefused(
            column=ro.column,
            problem=f"The RO {axis} {shown(ro.length)} is less than the unit's {shown(unit.length)}.",
            remedy="Check both: the unit has to fit into the rough opening.",
        )
    if ro.length - unit.length > WIDEST_GAP:
        raise SizeRefused(
            column=ro.column,
            problem=f"The RO {axis} exceeds the unit's by {shown(ro.length - unit.length)}.",
            remedy="Check both: more than 12 in between them is no installation gap.",
        )
