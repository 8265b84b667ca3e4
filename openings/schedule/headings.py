"""What a row that is no opening says: the face of the house, a total, a list of doors. Pure."""

from __future__ import annotations

import re
from itertools import pairwise

from openings.schedule.cells import Cells, is_blank, text_of

_DIRECTIONS = frozenset(
    {
        "front", "rear", "back", "left", "right", "north", "south", "east", "west", "northeast",
        "northwest", "southeast", "southwest", "ne", "nw", "se", "sw", "northern", "southern",
        "eastern", "western",
    }
)  # fmt: skip
_FACE_WORDS = frozenset(
    {
        "elevation", "elevations", "elev", "facade", "façade", "face", "side", "wall", "view",
    }
)  # fmt: skip
_FILLERS = frozenset(
    {
        "the", "of", "house", "home", "first", "second", "third", "fourth", "1st", "2nd", "3rd", "4th",
        "upper", "lower", "main", "ground", "floor", "level", "story", "storey", "basement", "windows",
        "window",
    }
)  # fmt: skip
_ELEVATION = frozenset({"elevation", "elevations", "elev", "facade", "façade"})
_LONGEST_FACE = 5
_LONGEST_HEADING = 500
_TOTAL = re.compile(
    r"(?:grand |sub ?|net )?(?:totals?|sum)"
    r"(?: (?:of )?(?:the )?(?:windows?|openings?|units?|qty|quantity|pcs|count))?"
)
_DOORS = re.compile(r"(?:\w+ ){0,2}doors?(?: (?:schedule|list))?")
_WORD = re.compile(r"[^\W_]+", re.UNICODE)


def lone_text(cells: Cells, first: int) -> str:
    """Return the text of a row that has text in its first cell alone, else an empty text."""
    stated = [index for index, cell in enumerate(cells) if not is_blank(cell)]
    if len(stated) != 1 or stated[0] > first:
        return ""
    return " ".join(text_of(cells[stated[0]]).split())[:_LONGEST_HEADING]


def is_total(text: str) -> bool:
    """Return whether a mark says total or sum, in any case."""
    return _TOTAL.fullmatch(" ".join(_WORD.findall(text.casefold()))) is not None


def names_doors(heading: str) -> bool:
    """Return whether a short heading announces doors rather than windows."""
    return _DOORS.fullmatch(" ".join(_WORD.findall(heading.casefold()))) is not None


def face_name(heading: str) -> str:
    """Return the face that a heading names, `FRONT ELEVATION` as `Front`; empty where it names none."""
    words = _WORD.findall(heading)
    lower = [word.casefold() for word in words]
    directions = [word for word in lower if word in _DIRECTIONS]
    rest = [word for word in lower if word not in _DIRECTIONS | _FACE_WORDS | _FILLERS and len(word) > 1]
    if directions and not rest:
        return _joined(heading, directions)
    if not words or len(words) > _LONGEST_FACE or not {lower[0], lower[-1]} & _FACE_WORDS:
        return ""
    own = [word for word in words if word.casefold() not in _ELEVATION]
    if not own:
        return ""
    if len(own) == 1 and len(own[0]) < 3:
        return f"Elevation {own[0].upper()}"
    return " ".join(own).capitalize()


def _joined(heading: str, directions: list[str]) -> str:
    """Return the directions as written, `NORTH-EAST` with its hyphen."""
    name = directions[0].capitalize()
    for before, after in pairwise(directions):
        hyphen = re.search(rf"{before}\s?-\s?{after}", heading.casefold())
        name += ("-" if hyphen else " ") + after.capitalize()
    return name
