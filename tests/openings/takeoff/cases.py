"""Small words for takeoff tests: an opening, a specification, and lines by part and zone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from openings.methods.load import load_method
from openings.takeoff.compute import OpeningTakeoff, take_off, take_off_house
from openings.takeoff.demand import Line
from openings.takeoff.opening import OpeningInput
from openings.takeoff.settings import apply_settings
from openings.takeoff.specification import DEFAULT, Specification
from projects.quantities.length import Length

JAMBS = ("left jamb", "right jamb")
SIDES = ("head", *JAMBS, "sill")


def inch(text: str | int | Fraction) -> Length:
    """Return a length from exact text."""
    return Length.inches(Fraction(text))


def spec(**texts: str) -> Specification:
    """Return the default specification with settings changed as `--set` changes them."""
    return apply_settings(DEFAULT, texts)


def opening(width: str | int = 36, height: str | int = 60, **fields: Any) -> OpeningInput:
    """Return an opening whose RO is unit + 1/2; other fields as given."""
    plain = OpeningInput(
        mark="W1",
        elevation="Front",
        unit_width=inch(width),
        unit_height=inch(height),
        ro_width=inch(width) + inch("1/2"),
        ro_height=inch(height) + inch("1/2"),
    )
    return replace(plain, **fields)


def taken(which: OpeningInput | None = None, **texts: str) -> OpeningTakeoff:
    """Return the takeoff of one opening under changed settings."""
    specification = spec(**texts)
    used = which or opening()
    return take_off(used, specification, load_method(used.method or specification.method))


def lines(part: str, which: OpeningInput | None = None, **texts: str) -> dict[str, Any]:
    """Return the lines of a part by zone."""
    found = [line for line in taken(which, **texts).lines if line.part == part]
    assert len({line.zone for line in found}) == len(found)
    return {line.zone: line for line in found}


def inches(part: str, which: OpeningInput | None = None, **texts: str) -> dict[str, Fraction]:
    """Return the lengths of a part's lines by zone, exactly, in inches."""
    found = lines(part, which, **texts)
    return {zone: Length(line.length_nm).exact_inches for zone, line in found.items()}


def counts(takeoff: OpeningTakeoff) -> dict[str, int]:
    """Return how many pieces of each part, over all zones."""
    total: dict[str, int] = {}
    for line in takeoff.lines:
        total[line.part] = total.get(line.part, 0) + line.count
    return total


def notices(takeoff: OpeningTakeoff) -> list[str]:
    """Return the texts of an opening's notices."""
    return [notice.text for notice in takeoff.notices]


def house_notices(openings: Sequence[OpeningInput], **texts: str) -> list[str]:
    """Return what holds for the whole house."""
    return list(take_off_house(openings, spec(**texts)).notices)


def zones(found: Sequence[Line]) -> list[str]:
    """Return the zones of lines in their order."""
    return [line.zone for line in found]
