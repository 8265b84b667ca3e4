"""Which settings contradict each other, and what a specification alone makes worth knowing. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from openings.takeoff.specification import Specification
from openings.takeoff.terms import next_stock, screw_needed
from projects.problems import Problem
from projects.quantities.length import ZERO_LENGTH, Length
from projects.quantities.text import format_length, format_rounded

THICKEST_FOAM = Length.inches(Fraction(3, 2))


def contradictions_of(specification: Specification) -> Iterator[Problem]:
    """Yield what no takeoff can be made under, each named by its setting.

    Source: foam above 1 1/2 in takes no fin, industry foam-sheathing page (P).
    """
    if specification.foam_thickness > THICKEST_FOAM:
        yield Problem(
            f"Exterior foam is {format_length(specification.foam_thickness)}: no fin is fastened through "
            f"more than {format_length(THICKEST_FOAM)}.",
            "Ask for a buck around the opening and give the foam in front of it.",
            column="foam_thickness",
            value=format_length(specification.foam_thickness),
        )
    if specification.jamb_wrap >= specification.jamb_strip_width:
        yield Problem(
            f"Jamb wrap {format_length(specification.jamb_wrap)} leaves nothing of a jamb strip "
            f"{format_length(specification.jamb_strip_width)} wide on the wall.",
            "Make the wrap smaller or the jamb strip wider.",
            column="jamb_wrap",
            value=format_length(specification.jamb_wrap),
        )
    if specification.pan != "none" and specification.weep_gap <= ZERO_LENGTH:
        yield Problem(
            "A weep gap of 0 closes the pan: its water can't leave.",
            "Give the weep gap a length, or take the pan away (pan: none).",
            column="weep_gap",
            value=format_length(specification.weep_gap),
        )


def house_notices_of(specification: Specification) -> Iterator[str]:
    """Yield what holds for every opening under `specification`."""
    needed_nm = screw_needed(specification)
    if next_stock(needed_nm, specification.screw_lengths) is None:
        longest = format_length(max(specification.screw_lengths))
        yield (
            f"Screws must be at least {format_rounded(Length(needed_nm))} long; "
            f"the longest in stock is {longest}."
        )
    for name, width in (
        ("sill", specification.sill_strip_width),
        ("jamb", specification.jamb_strip_width),
        ("head", specification.head_strip_width),
    ):
        if width not in specification.stock_widths and (name != "head" or specification.head_strip):
            yield f"The {name} strip's width {format_length(width)} is not a stock width."
