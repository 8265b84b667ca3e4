"""Totals as plain values that a database keeps, and back again. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from materials.catalogue.rollup import Packs
from materials.catalogue.totals import Totals
from openings.takeoff.demand import Need


def plain_totals(totals: Totals) -> dict[str, Any]:
    """Return a house's totals in nanometres, picolitres and pieces, each need as one text.

    Such as `strip/sill strip/228600000/1384300000`: 54.5 in of 9 in membrane.
    """
    packs = totals.packs
    return {
        "openings": totals.openings,
        "refused": totals.refused,
        "demand": {"/".join(map(str, need)): amount for need, amount in totals.demand.items()},
        "packs": packs and [packs.cartridges, packs.fasteners, packs.corner_patches],
        "rolls": packs and {str(width_nm): rolls for width_nm, rolls in packs.rolls.items()},
    }


def totals_of_plain(plain: Mapping[str, Any]) -> Totals:
    """Return the totals that `plain_totals` was given."""
    demand = {_need_of(text): amount for text, amount in plain["demand"].items()}
    packs = None
    if plain["packs"] is not None:
        rolls = {int(width_nm): rolls for width_nm, rolls in plain["rolls"].items()}
        packs = Packs(rolls, *plain["packs"])
    return Totals(plain["openings"], plain["refused"], demand, packs)


@lru_cache(maxsize=65_536)
def _need_of(text: str) -> Need:
    # houses share most of their needs, and a look-up is far quicker than taking the text apart
    kind, part, size_nm, length_nm = text.split("/")
    return Need(kind, part, int(size_nm), int(length_nm))
