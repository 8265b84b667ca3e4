"""Which length a cell states: units of its header, decimal commas of its file, pairs and call sizes. Pure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from openings.schedule.cells import DATE, ERROR, ERROR_TEXTS, Cell, text_of
from projects.errors import BadValue
from projects.quantities.length import Length
from projects.quantities.text import format_feet, parse_length

_BARE = re.compile(r"[0-9 .,/½¼¾⅛⅜⅝⅞⁄-]+")
_METRIC = re.compile(r"(?P<unit>mm|cm|m)\.?$", re.IGNORECASE)
_FEET_ONLY = re.compile(r"[0-9 .,/½¼¾⅛⅜⅝⅞⁄-]+(?:['’′]|ft\.?|feet|foot)", re.IGNORECASE)
_DATE_TEXT = re.compile(
    r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}(?:[T ][0-9:]+)?|[0-9]{1,2}[/.][0-9]{1,2}[/.](?:[0-9]{2}|[0-9]{4})"
    r"|[0-9]{1,4}[- ](?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?(?:[- ][0-9]{2,4})?"
    r"|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?[- ][0-9]{1,4}",
    re.IGNORECASE,
)
_OTHER_SHAPE = re.compile(
    r"\b(arch|arched|radius|round|circle|oval|octagon|trapezoid|triangle|rake|eyebrow)\b", re.I
)
_TIMES = re.compile(r"\s*(?:[xX×]|\bby\b)\s*(?=[0-9.½¼¾⅛⅜⅝⅞])", re.IGNORECASE)
_SIDE = re.compile(r"(?P<length>.*?)\s*(?<![a-zA-Z])(?P<side>[wWhH])(?:ide|igh|idth|eight)?\.?")
_RUN_TOGETHER = re.compile(r"([0-9])([0-9])([0-9])([0-9])")
_LONG_HALVES = re.compile(r"([0-9])(1[01])([0-9])(1[01])")
_PARTED = re.compile(r"([0-9])(1[01]|[0-9])\s*-\s*([0-9])(1[01]|[0-9])")
# how the unit opens, written behind its call size: fixed, single hung, sliding ...
_OPERATION = re.compile(r"(?P<size>.*[0-9])\s*(?:SH|DH|FX|FIX|XO|OX|XOX|OXO|XX|PW|CS|CSMT|AW|AWN|SL|TR|TRAN)")
_TWO_READINGS = re.compile(r"[0-9](?:1[01]|[0-9])\s*[xX×]\s*[0-9](?:1[01]|[0-9])")
_LONGEST_SIZE = 128
_PAIR_REMEDY = "Write the width first: 3'-0 1/2\" x 5'-0 1/2\"."
_CALL_REMEDY = "Write 3050 or 210-48 (feet and inches, width first), or 3'-0\" x 5'-0\"."


@dataclass(frozen=True, slots=True)
class Reading:
    """How a column's numbers are to be read: the unit of bare ones, commas as points, height first."""

    unit: str = ""
    decimal_comma: bool = False
    height_first: bool = False


@dataclass(frozen=True, slots=True)
class Pair:
    """A width and a height from one cell."""

    width: Length
    height: Length


def refuse_spoilt(cell: Cell) -> str:
    """Return the cell's text, trimmed. Raises BadValue, saying why, where a spreadsheet spoilt the cell."""
    if isinstance(cell, str) and cell.strip() not in ERROR_TEXTS:
        return cell.strip()
    if isinstance(cell, str) or cell.why == ERROR:
        raise BadValue(
            problem=f"The cell shows the spreadsheet error {text_of(cell).strip()}.",
            remedy="Type the value itself.",
            value=text_of(cell),
        )
    if cell.why == DATE:
        raise _a_date(cell.shown)
    raise BadValue(
        problem="The cell holds a formula whose result is not in the file.",
        remedy="Save the file in a spreadsheet, or type the value.",
        value=cell.shown,
    )


def _written(cell: Cell) -> str:
    """Return the cell's text where it is short enough for any size. Raises BadValue."""
    text = refuse_spoilt(cell)
    if len(text) > _LONGEST_SIZE:
        raise BadValue(problem=f"“{text[:60]}…” is too long for a size.", remedy=_PAIR_REMEDY, value=text)
    return text


def read_length(cell: Cell, reading: Reading) -> Length:
    """Return the length in the cell; a bare number has the unit of `reading`. Raises BadValue."""
    return _length(_written(cell), reading)


def read_side(cell: Cell, reading: Reading, *, side: str) -> Length:
    """Return a length that may name its side, `36"W` in a column of widths. Raises BadValue."""
    length, named = _without_side(_written(cell))
    return _length(length, reading) if named == side else read_length(cell, reading)


@lru_cache(maxsize=8192)
def _length(text: str, reading: Reading) -> Length:
    """Return the length of a trimmed text; a schedule repeats its sizes, so what was read is kept."""
    if _DATE_TEXT.fullmatch(text):
        raise _a_date(text)
    if found := _OTHER_SHAPE.search(text):
        raise BadValue(
            problem=f"“{text[:60]}” speaks of a shape ({found[1].lower()}): only rectangles are read.",
            remedy="Take this opening out of the file and work it out by hand.",
            value=text,
        )
    if reading.unit and _BARE.fullmatch(text):
        return parse_length(f"{text} {reading.unit}", decimal_comma=reading.decimal_comma)
    return parse_length(text, decimal_comma=reading.decimal_comma)


def read_pair(cell: Cell, reading: Reading) -> Pair:
    """Return width and height from a cell such as `3'-0 1/2" x 5'-0 1/2"`. Raises BadValue.

    A unit that stands after the second length only, `914 x 1524 mm`, holds for both; `36"W` and `60"H` name
    their side.
    """
    text = _written(cell)
    if _DATE_TEXT.fullmatch(text):
        raise _a_date(text)
    parts = _TIMES.split(text)
    if len(parts) != 2 or not all(parts):
        if _OTHER_SHAPE.search(text):
            read_length(cell, reading)
        raise BadValue(
            problem=f"“{text[:60]}” is no width and height.",
            remedy=_PAIR_REMEDY,
            value=text,
        )
    (first, first_side), (second, second_side) = _without_side(parts[0]), _without_side(parts[1])
    first, second = _with_one_unit(first, second)
    lengths = read_length(first, reading), read_length(second, reading)
    height_first = (
        (first_side, second_side) == ("h", "w") if first_side or second_side else reading.height_first
    )
    return Pair(*reversed(lengths)) if height_first else Pair(*lengths)


def read_call_size(cell: Cell, reading: Reading) -> Pair:
    """Return a call size: `3050` is 3'-0" wide, 5'-0" high; `210-48` is 2'-10" x 4'-8". Raises BadValue.

    A pair of lengths with their marks is taken as well; two bare numbers such as `30x50` have two readings.
    """
    text = _written(cell)
    if match := _OPERATION.fullmatch(text):
        text = match["size"]
    for form in (_RUN_TOGETHER, _PARTED, _LONG_HALVES):
        if match := form.fullmatch(text):
            feet_wide, inches_wide, feet_high, inches_high = (int(digits) for digits in match.groups())
            return Pair(
                Length.inches(12 * feet_wide + inches_wide), Length.inches(12 * feet_high + inches_high)
            )
    if _TWO_READINGS.fullmatch(text):
        raise BadValue(
            problem=f"“{text}” may be a call size or two lengths in inches.",
            remedy=_CALL_REMEDY,
            value=text,
        )
    if _TIMES.search(text):
        return read_pair(text, reading)
    if _DATE_TEXT.fullmatch(text):
        raise _a_date(text)
    if re.fullmatch(r"[0-9]{5}", text):
        raise BadValue(
            problem=f"“{text}” has five digits: where the width ends is not clear.",
            remedy="Part the halves: 210-48 is 2'-10\" wide and 4'-8\" high.",
            value=text,
        )
    raise BadValue(problem=f"“{text[:60]}” is no call size.", remedy=_CALL_REMEDY, value=text)


def shown(length: Length) -> str:
    """Return a length as a notice or a refusal names it."""
    return format_feet(length)


def _without_side(text: str) -> tuple[str, str]:
    match = _SIDE.fullmatch(text.strip())
    return (match["length"], match["side"].lower()) if match else (text.strip(), "")


def _with_one_unit(first: str, second: str) -> tuple[str, str]:
    """Return both texts with the metric unit that one has. Raises BadValue: feet beside a bare number."""
    bare = [text for text in (first, second) if _BARE.fullmatch(text)]
    if len(bare) != 1:
        return first, second
    stated = second if bare[0] is first else first
    if _FEET_ONLY.fullmatch(stated):
        raise BadValue(
            problem=f"“{first} x {second}” has feet on one side only.",
            remedy=_PAIR_REMEDY,
            value=f"{first} x {second}",
        )
    metric = _METRIC.search(stated)
    unit = f" {metric['unit']}" if metric else ""
    return (f"{first}{unit}", second) if bare[0] is first else (first, f"{second}{unit}")


def _a_date(text: str) -> BadValue:
    return BadValue(
        problem=f"The cell holds a date ({text}), made by the spreadsheet.",
        remedy="Set the column to text and type it again, such as 6'-3\".",
        value=text,
    )
