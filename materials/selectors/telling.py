"""How quantities in a material's base unit are told to people."""

from __future__ import annotations

from projects.quantities.length import Length
from projects.quantities.text import format_feet
from projects.quantities.volume import Volume


def told_quantity(unit: str, quantity: int) -> str:
    """Return a quantity in the material's base unit as people say it."""
    if unit == "length":
        return format_feet(Length(quantity), nearest=1)
    if unit == "volume":
        return f"{Volume(quantity).in_cubic_inches:,.1f} in³"
    return f"{quantity}"
