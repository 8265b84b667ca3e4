"""Whether a whole file writes its decimals with a comma. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterable

from openings.schedule.cells import Cell, NumberText, Spoilt

_COMMA = re.compile(r",[0-9]")
_POINT_OR_FRACTION = re.compile(r"\.[0-9]|[0-9][/⁄][0-9]|[½¼¾⅛⅜⅝⅞]")
# 1,200 may be twelve hundred; 1,200 m, 0,914 and 36,5 may not
_EITHER = re.compile(r"(?<![0-9])[1-9][0-9]{0,2},[0-9]{3}(?![0-9])(?!\s*m\b)")


def decimal_comma_example(cells: Iterable[Cell]) -> str:
    """Return a number that shows that the cells write decimals with a comma, empty where they do not.

    One decimal point or fraction anywhere, or commas that may all part thousands, and commas are no decimals.
    The numbers of a workbook have neither.
    """
    example = ""
    for cell in cells:
        if isinstance(cell, Spoilt | NumberText):
            continue
        if _POINT_OR_FRACTION.search(cell):
            return ""
        if not example and _COMMA.search(cell) and not _EITHER.search(cell):
            example = cell.strip()
    return example
