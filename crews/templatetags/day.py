"""Times and places of a crew's day as its pages show them."""

from __future__ import annotations

from django import template

from crews.dayplan.crew_day.day import clock as clock_of
from projects.quantities.length import Length

register = template.Library()


@register.filter
def clock(minute: int | None) -> str:
    """Return a minute of the day as people read it: 9:05; nothing for none."""
    return "" if minute is None else clock_of(minute)


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
