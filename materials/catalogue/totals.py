"""What houses come to in all: the net demand, and the packs it is rounded up to. Pure."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import astuple, dataclass
from typing import TypeVar

from materials.catalogue.rollup import Packs, pack_house
from openings.takeoff.compute import RULES_VERSION
from openings.takeoff.demand import Demand, add_demands
from openings.takeoff.specification import Specification
from openings.takeoff.tally import Tally
from projects.errors import BadValue

TOTALS_VERSION = "1"
"""Changes whenever the same demand would come to other totals; kept ones are then made again."""

House = TypeVar("House")


@dataclass(frozen=True, slots=True)
class Totals:
    """What a house comes to: of its `openings`, those `refused` can't be taken off and are left out.

    `packs` is None where a strip is longer than a roll.
    """

    openings: int
    refused: int
    demand: Demand
    packs: Packs | None


def total_up(tally: Tally, specification: Specification) -> Totals:
    """Return what a house's tally comes to."""
    try:
        packs = pack_house(tally.demand, specification)
    except BadValue:
        packs = None
    return Totals(tally.openings, tally.refused, tally.demand, packs)


def sum_demands(houses: Iterable[Totals]) -> Demand:
    """Return the net demand of houses together, to be rounded up once."""
    return add_demands((house.demand, 1) for house in houses)


def hashes_of(fingerprints: Mapping[House, str], specification: Specification) -> dict[House, str]:
    """Return per house a SHA-256 of all that its totals come from: the same hash means the same totals.

    `fingerprints` change with every change of a house's openings. The hash covers the versions of the rules
    and of the totals.
    """
    common = hashlib.sha256(repr((RULES_VERSION, TOTALS_VERSION, astuple(specification))).encode())
    found: dict[House, str] = {}
    for house, fingerprint in fingerprints.items():
        digest = common.copy()
        digest.update(fingerprint.encode())
        found[house] = digest.hexdigest()
    return found
