"""What the columns other than the sizes say: marks, counts, choices, glass, weights, words. Pure."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from fractions import Fraction

from openings.schedule.cells import Cell, text_of
from openings.schedule.lengths import Reading, read_length, refuse_spoilt
from openings.schedule.limits import MAX_COUNT
from openings.schedule.words import NO_FIN, RECTANGLES, SOME_FIN
from openings.takeoff.opening import GlassPanes
from projects.errors import BadValue
from projects.quantities.length import Length
from projects.quantities.mass import Mass
from projects.quantities.text import parse_length

LONGEST_MARK = 64
LONGEST_NAME = 64
LONGEST_FLAG = 64
MOST_FLAGS = 20
LONGEST_NOTE = 2_000
MOST_MULLS = 20
MOST_PANES = 6
HEAVIEST = Mass.pounds(5_000)
THINNEST, THICKEST = Length.mm(1), Length.mm(25)
# control characters break lines too, these two are the others
_LINE_BREAKS = frozenset("\u2028\u2029")
_NOTE_CONTROLS = frozenset("\n\r\t")
_COUNT = re.compile(r"(?P<count>[0-9]{1,9})(?:\.0*)?\s*(?:ea|each|pcs?|pieces?|x|units?)?\.?", re.IGNORECASE)
_DECIMAL = r"[0-9]{1,9}(?:\.[0-9]{1,9})?"
_WEIGHT = re.compile(rf"(?P<number>{_DECIMAL})\s*(?P<unit>lbs?|pounds|#|kgs?)?\.?", re.IGNORECASE)
_GLASS = re.compile(r"(?P<panes>[0-9])\s*[xX×]\s*(?P<thickness>[0-9].*)")
_SPACES = " \t\u00a0"


def read_mark(cell: Cell) -> str:
    """Return the mark. Raises BadValue: empty, too long, line breaks or control characters in it."""
    text = refuse_spoilt(cell) if not isinstance(cell, str) else cell.strip(_SPACES)
    if not text.strip():
        raise BadValue(problem="The mark is missing.", remedy="Give every opening its own mark.", value=text)
    return _name(text, what="Marks", longest=LONGEST_MARK)


def read_elevation(cell: Cell) -> str:
    """Return the elevation's name on one line, empty where there is none. Raises BadValue."""
    lines = (line.strip(_SPACES) for line in refuse_spoilt(cell).splitlines())
    return _name(" ".join(line for line in lines if line), what="Elevations", longest=LONGEST_NAME)


def read_count(cell: Cell) -> int:
    """Return how many identical openings the row stands for. Raises BadValue unless 1 to the most allowed."""
    text = refuse_spoilt(cell)
    match = _COUNT.fullmatch(text)
    if match is None or not 1 <= int(match["count"]) <= MAX_COUNT:
        raise BadValue(
            problem=f"“{text[:60]}” is no count of openings.",
            remedy=f"Write a whole number from 1 to {MAX_COUNT:,}.",
            value=text,
        )
    return int(match["count"])


def expanded(mark: str, count: int) -> tuple[str, ...]:
    """Return the marks of `count` identical openings: R with 3 gives R01, R02, R03; one keeps its mark."""
    if count == 1:
        return (mark,)
    marks = tuple(f"{mark}{number:02d}" for number in range(1, count + 1))
    _name(marks[-1], what="Marks", longest=LONGEST_MARK)
    return marks


def read_choice(cell: Cell, choices: Mapping[str, str], *, named: str) -> str:
    """Return our word for a choice, whatever its case. Raises BadValue with the words to choose from."""
    text = refuse_spoilt(cell)
    word = " ".join(text.casefold().split()).removeprefix("method ")
    if word not in choices:
        offered = ", ".join(dict.fromkeys(choices.values()))
        raise BadValue(
            problem=f"“{text[:60]}” is not known for {named}.",
            remedy=f"Choose one of: {offered}.",
            value=text,
        )
    return choices[word]


def read_fin(cell: Cell, choices: Mapping[str, str]) -> str:
    """Return fixed or folding, empty where the cell only says that there is a fin. Raises BadValue."""
    text = refuse_spoilt(cell)
    word = text.casefold().strip(" .")
    if word in SOME_FIN:
        return ""
    if word in NO_FIN:
        raise BadValue(
            problem="The unit has no fin, which every method here fastens and flashes.",
            remedy="Take it out, or write fixed or folding where it has one.",
            value=text,
        )
    return read_choice(word.removesuffix(" fin"), choices, named="the fin")


def check_shape(cell: Cell) -> None:
    """Raise BadValue unless the shape is a rectangle."""
    text = refuse_spoilt(cell)
    if text.casefold() not in RECTANGLES:
        raise BadValue(
            problem=f"“{text[:60]}” is not read: only rectangles are taken off.",
            remedy="Take this opening out of the file and work it out by hand.",
            value=text,
        )


def read_bounded(cell: Cell, reading: Reading, *, least: Length, most: Length) -> Length:
    """Return a length from `least` to `most`. Raises BadValue with the range."""
    length = read_length(cell, reading)
    if not least <= length <= most:
        raise BadValue(
            problem=f"“{text_of(cell)[:60]}” is out of range here.",
            remedy=f"Write {least.in_inches:g} to {most.in_inches:g} in.",
            value=text_of(cell),
        )
    return length


def read_mulls(cell: Cell) -> int:
    """Return the number of factory mull joints. Raises BadValue."""
    text = refuse_spoilt(cell)
    match = _COUNT.fullmatch(text)
    if match is None or int(match["count"]) > MOST_MULLS:
        raise BadValue(
            problem=f"“{text[:60]}” is no number of mull joints.",
            remedy=f"Write a whole number from 0 to {MOST_MULLS}.",
            value=text,
        )
    return int(match["count"])


def read_weight(cell: Cell, reading: Reading) -> Mass:
    """Return the unit's weight, in pounds unless the cell or its header says kg. Raises BadValue."""
    text = refuse_spoilt(cell)
    number = text.replace(",", ".") if reading.decimal_comma else text
    match = _WEIGHT.fullmatch(number)
    in_kg = match is not None and (match["unit"] or reading.unit).lower().startswith("kg")
    weight = Mass(0)
    if match is not None:
        weight = Mass.kg(Fraction(match["number"])) if in_kg else Mass.pounds(Fraction(match["number"]))
    if not Mass(0) < weight <= HEAVIEST:
        raise BadValue(
            problem=f"“{text[:60]}” is no weight of a unit.",
            remedy="Write pounds above 0 and up to 5,000, such as 62.5.",
            value=text,
        )
    return weight


def read_glass(cell: Cell, reading: Reading) -> GlassPanes:
    """Return panes and thickness from a cell such as `2x3mm`. Raises BadValue."""
    text = refuse_spoilt(cell)
    match = _GLASS.fullmatch(text)
    panes = int(match["panes"]) if match else 0
    thickness = Length(0)
    if match and not match["thickness"].replace(",", ".").replace(".", "").isdigit():
        thickness = parse_length(match["thickness"], decimal_comma=reading.decimal_comma)
    if not (1 <= panes <= MOST_PANES and THINNEST <= thickness <= THICKEST):
        raise BadValue(
            problem=f"“{text[:60]}” names no glass panes.",
            remedy="Write panes and thickness with its unit, such as 2x3mm (1 to 25 mm).",
            value=text,
        )
    return GlassPanes(panes, thickness)


def read_flags(cell: Cell) -> tuple[str, ...]:
    """Return the flags, split at semicolons, as typed. Raises BadValue."""
    flags = tuple(flag.strip(_SPACES) for flag in text_of(cell).split(";"))
    flags = tuple(dict.fromkeys(flag for flag in flags if flag))
    if len(flags) > MOST_FLAGS:
        raise BadValue(
            problem=f"There are {len(flags)} flags.",
            remedy=f"Keep up to {MOST_FLAGS}, and put the rest into the note.",
            value=text_of(cell),
        )
    return tuple(_name(flag, what="Flags", longest=LONGEST_FLAG) for flag in flags)


def read_note(text: str) -> str:
    """Return the note as typed; line breaks and tabs may stay. Raises BadValue."""
    if len(text) > LONGEST_NOTE:
        raise BadValue(
            problem=f"The note has {len(text):,} characters.",
            remedy=f"Shorten it to {LONGEST_NOTE:,}.",
            value=text,
        )
    if any(_is_control(letter) and letter not in _NOTE_CONTROLS for letter in text):
        raise BadValue(
            problem="The note holds control characters.",
            remedy="Type the note again, or leave it empty.",
            value=text,
        )
    return text


def _name(text: str, *, what: str, longest: int) -> str:
    if len(text) > longest or any(_is_control(letter) or letter in _LINE_BREAKS for letter in text):
        raise BadValue(
            problem=f"{what} can have up to {longest} characters and no line breaks or control characters.",
            remedy="Shorten it, and write it on one line.",
            value=text,
        )
    return text


def _is_control(letter: str) -> bool:
    """Return whether a character is a control or half a surrogate pair; marks of direction are neither."""
    return unicodedata.category(letter) in ("Cc", "Cs")
