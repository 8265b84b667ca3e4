"""The takeoff of one house as the published document. Pure."""

from __future__ import annotations

from typing import Any

from materials.catalogue.rollup import HouseRollUp, rollup_as_json
from openings.takeoff.answer import opening_as_json
from openings.takeoff.compute import HouseTakeoff
from openings.takeoff.settings import as_json


def takeoff_document(takeoff: HouseTakeoff, rollup: HouseRollUp) -> dict[str, Any]:
    """Return specification, openings and house, without the problems and notices that frame every answer."""
    return {
        "specification": as_json(takeoff.specification),
        "openings": [opening_as_json(opening) for opening in takeoff.openings],
        "house": rollup_as_json(rollup),
    }
