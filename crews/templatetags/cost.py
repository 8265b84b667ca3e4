"""A cost's quantity and rate as its table shows them."""

from __future__ import annotations

from fractions import Fraction

from django import template

from crews.costing.cost import CostPart
from projects.quantities.money import Money, half_up

register = template.Library()


@register.filter
def quantity_told(part: CostPart) -> str:
    """Return how much of what: 12.5 ft, 8 person-minutes, 4.2 % of the whole."""
    if part.is_share:
        return f"{_decimals(part.quantity * 100, 1)} % of the whole"
    unit = f"{part.unit}s" if part.unit == "person-minute" and part.quantity != 1 else part.unit
    return f"{_decimals(part.quantity, 1)} {unit}"


@register.filter
def rate_told(part: CostPart) -> str:
    """Return what one unit costs, to a hundredth of a cent: $0.5600 a ft; for a share, what is shared."""
    if part.is_share:
        return f"{Money(half_up(part.cents_per_unit), part.amount.currency).as_text} in all"
    return f"{_decimals(part.cents_per_unit / 100, 4)} a {part.unit}"


def _decimals(number: Fraction, places: int) -> str:
    scaled = half_up(number * 10**places)
    sign = "-" if scaled < 0 else ""
    whole, rest = divmod(abs(scaled), 10**places)
    decimals = f"{rest:0{places}d}".rstrip("0") if places == 1 else f"{rest:0{places}d}"
    return f"{sign}{whole}.{decimals}" if decimals else f"{sign}{whole}"
