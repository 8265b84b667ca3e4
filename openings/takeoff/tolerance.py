"""How true a rough opening has to be before a window goes in. Pure.

Source: a window maker's dimension guide, "proper installation" page (P). Makers differ: the sheet of the
window in hand overrules it.
"""

from __future__ import annotations

from math import isqrt

from openings.takeoff.opening import OpeningInput
from projects.quantities.length import NM_PER_INCH, Length
from projects.quantities.volume import Area

SMALL_OPENING = Area.of(Length.inches(240), Length.inches(12))
"""20 square feet."""
LONG_LEVEL = Length.inches(48)
SIXTEENTH = Length(NM_PER_INCH // 16)


def diagonal_of(opening: OpeningInput) -> Length:
    """Return the length that both diagonals of a true rough opening have, rounded to the nanometre."""
    width_nm, height_nm = opening.ro_width.nm, opening.ro_height.nm
    return Length((isqrt(4 * (width_nm * width_nm + height_nm * height_nm)) + 1) // 2)


def diagonal_tolerance(opening: OpeningInput) -> Length:
    """Return by how much the diagonals may differ: 1/8 in up to 20 square feet, 1/4 in above."""
    area = Area.of(opening.ro_width, opening.ro_height)
    return 2 * SIXTEENTH if area <= SMALL_OPENING else 4 * SIXTEENTH


def level_tolerance(level: Length) -> Length:
    """Return the gap allowed under a level that long: 1/8 in from 4 ft on, 1/16 in under a shorter one."""
    return 2 * SIXTEENTH if level >= LONG_LEVEL else SIXTEENTH


def width_tolerance() -> Length:
    """Return by how much the width may differ between top, middle and bottom: 1/16 in."""
    return SIXTEENTH


def twist_tolerance(opening: OpeningInput) -> Length:
    """Return how far apart crossed strings may be: 1/8 in up to 4 ft, 3/16 in above."""
    longest = max(opening.ro_width, opening.ro_height)
    return 2 * SIXTEENTH if longest <= LONG_LEVEL else 3 * SIXTEENTH
