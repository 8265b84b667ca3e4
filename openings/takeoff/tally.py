"""What many openings of a house need together, from how often each geometry occurs. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from openings.methods.method import Method
from openings.takeoff.contradictions import contradictions_of
from openings.takeoff.demand import Demand, add_demands
from openings.takeoff.geometry import Geometry
from openings.takeoff.reckoner import Reckoner, reckoner_for
from openings.takeoff.specification import Specification
from projects.errors import BadValue

Counted = Mapping[Geometry, int]
"""How many openings of each geometry a house has."""


@dataclass(frozen=True, slots=True)
class Tally:
    """What openings need, without a line of it: all but those `refused`, which can't be taken off."""

    demand: Demand
    openings: int
    refused: int


def tally_houses(
    houses: Iterable[Counted], specification: Specification, methods: Mapping[str, Method] | None = None
) -> list[Tally]:
    """Return the tally of each house, in the given order; each demand is that of `take_off_house`.

    `methods` by code; without it, those of the method files. Who wants to know why an opening is refused
    takes the house off.
    """
    if any(contradictions_of(specification)):
        return [Tally({}, total, total) for total in (sum(counted.values()) for counted in houses)]
    reckoner = reckoner_for(specification) if methods is None else Reckoner(specification, methods)
    return [_tally(counted, reckoner) for counted in houses]


def _tally(counted: Counted, reckoner: Reckoner) -> Tally:
    demands: list[tuple[Demand, int]] = []
    refused = 0
    for geometry, count in counted.items():
        try:
            demands.append((reckoner.demand(geometry), count))
        except BadValue:
            refused += count
    return Tally(add_demands(demands), sum(counted.values()), refused)
