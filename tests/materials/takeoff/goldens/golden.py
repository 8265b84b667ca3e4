"""What a golden opening is; the sections of round beads that all of them use.

Sections used below: a round bead of diameter d has pi d^2 / 4:
    1/4 -> pi / 64 = 0.0490873852 in2;  1/2 -> pi / 16 = 0.1963495408 in2.
A 10.1 fl oz cartridge holds 10.1 x 231 / 128 = 18.22734375 in3.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import pi
from typing import Any

from openings.takeoff.opening import OpeningInput
from projects.quantities.length import Length

QUARTER = pi / 64
HALF = pi / 16

Lines = dict[tuple[str, str], dict[str, Any]]


@dataclass(frozen=True)
class Golden:
    """A schedule of one row, the same as a value, its settings, and what the answer must hold."""

    schedule: str
    row: OpeningInput
    settings: dict[str, str]
    opening: dict[str, Any]
    lines: Lines
    house: dict[str, Any]
    opening_notices: tuple[str, ...] = ()
    house_notices: tuple[str, ...] = ()


def inch(text: str | int) -> Length:
    """Return a length from exact text."""
    return Length.inches(Fraction(text))
