"""What a pack is called between companies: codes of UN/ECE Recommendations 20 and 21. Pure.

Recommendation 21 (packages, two letters) stands within Recommendation 20 (units) with an X in front: the rule
of Recommendation 20, introduction, 2 a, as EN 16931 quotes it for invoices. Names and codes were read in
public copies of the list of units that goes with EN 16931 (Recommendation 20, revision 17, with 21), not in
the recommendations themselves; OASIS keeps the same for UBL (docs.oasis-open.org/ubl, PackagingTypeCode).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

PACKAGE = "XPK"
"""Package: what no other code says."""

UNIT_CODES: Mapping[str, str] = MappingProxyType(
    {
        "box": "XBX",  # box
        "bundle": "XBE",  # bundle
        "can": "XCX",  # can, cylindrical
        "cartridge": "XCQ",  # cartridge
        "case": "XCS",  # case
        "piece": "H87",  # Recommendation 20: piece
        "roll": "XRO",  # roll
        "sausage": "XTD",  # tube, collapsible: our choice for a foil pack, which has no code of its own
        "stick": "XBR",  # bar: our choice for a length of bent sheet, which has no code of its own
    }
)
"""The code by the first word of a pack's key in the catalogue: `roll` of `roll-50ft`."""


def unit_code(pack: str) -> str:
    """Return the unit code of the pack with this key of the catalogue."""
    return UNIT_CODES.get(pack.partition("-")[0], PACKAGE)
