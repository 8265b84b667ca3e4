"""Times and places of a crew's day as its pages show them."""

from __future__ import annotations

from collections.abc import Sequence

from django import template

from crews.dayplan.crew_day.day import clock as clock_of
from projects.quantities.length import Length
from projects.quantities.text import format_rounded

register = template.Library()


@register.filter
def clock(minute: int | None) -> str:
    """Return a minute of the day as people read it: 9:05; nothing for none."""
    return "" if minute is None else clock_of(minute)


@register.filter
def screws(positions: Sequence[int]) -> str:
    """Return screws' places in inches to the sixteenth, whole millimetres behind each: 3" (76), 12" (305)."""
    told = [f"{format_rounded(Length(nm))} ({(2 * nm + 10**6) // (2 * 10**6)})" for nm in positions]
    return ", ".join(told) or "none"


@register.filter
def as_length(nm: int) -> Length:
    """Return nanometres as the length that other filters show."""
    return Length(nm)


@register.filter
def hours(minutes: int) -> str:
    """Return minutes as people say them: 45 min, 1 h 20 min."""
    whole, rest = divmod(minutes, 60)
    if not whole:
        return f"{rest} min"
    return f"{whole} h {rest} min" if rest else f"{whole} h"


@register.filter
def both_units(nm: int) -> str:
    """Return a length in inches to the sixteenth and whole millimetres, as plain text: 36 1/2" (927 mm)."""
    return f"{format_rounded(Length(nm))} ({(2 * nm + 10**6) // (2 * 10**6)} mm)"
