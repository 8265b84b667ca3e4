"""Takes off geometries under one specification, and remembers what is small and recurs. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from openings.methods.load import load_method
from openings.methods.method import Method
from openings.takeoff.demand import Demand, Line, demand_of
from openings.takeoff.geometry import Geometry
from openings.takeoff.notices import Notice, notices_of_choices, notices_of_sizes
from openings.takeoff.rules.registry import rules_for
from openings.takeoff.rules.rule import Rule
from openings.takeoff.specification import Specification
from openings.takeoff.terms import RowRefused, Terms, overrides_of, settle_terms
from projects.quantities.length import Length
from projects.quantities.text import format_length

MOST_DEMANDS_KEPT = 100_000
"""Geometries whose demands are kept; beyond it all are forgotten and reckoned again."""


@dataclass(frozen=True, slots=True)
class Settled:
    """What the overrides of a geometry decide once for all its sizes."""

    terms: Terms
    rules: tuple[Rule, ...]
    notices: tuple[Notice, ...]


class Reckoned(NamedTuple):
    """What openings of one geometry need, and what is worth knowing of them: choices first, then sizes."""

    terms: Terms
    lines: Sequence[Line]
    notices: tuple[Notice, ...]


class Reckoner:
    """One specification's takeoff. `methods` by code; without it, those of the method files.

    Demands are kept, lines are not: so many small values that live on slow down the making of new ones.
    """

    def __init__(self, specification: Specification, methods: Mapping[str, Method] | None = None) -> None:
        """Remember nothing yet."""
        self.specification = specification
        self._methods = methods
        self._settled_by: dict[tuple[object, ...], Settled] = {}
        self._demands: dict[Geometry, Demand] = {}

    def reckon(self, geometry: Geometry) -> Reckoned:
        """Return what an opening of `geometry` needs, its lines in listing order.

        Raises RowRefused where its choices contradict each other or the RO is smaller than the unit.
        """
        settled = self._settled(geometry)
        lines = _lines(geometry, settled)
        of_sizes = notices_of_sizes(geometry, settled.terms, lines)
        return Reckoned(settled.terms, lines, (*settled.notices, *of_sizes))

    def lines(self, geometry: Geometry) -> Sequence[Line]:
        """Return the lines of `geometry` alone. Raises RowRefused as `reckon` does."""
        return self.reckon(geometry).lines

    def demand(self, geometry: Geometry) -> Demand:
        """Return what one opening of `geometry` needs. Raises RowRefused as `reckon` does."""
        known = self._demands.get(geometry)
        if known is None:
            if len(self._demands) >= MOST_DEMANDS_KEPT:
                self._demands.clear()
            lines = _lines(geometry, self._settled(geometry))
            known = self._demands[geometry] = demand_of(lines)
        return known

    def _settled(self, geometry: Geometry) -> Settled:
        key = overrides_of(geometry)
        settled = self._settled_by.get(key)
        if settled is None:
            terms = settle_terms(geometry, self.specification, self._method(geometry))
            settled = self._settled_by[key] = Settled(
                terms, rules_for(terms), notices_of_choices(geometry, terms)
            )
        return settled

    def _method(self, geometry: Geometry) -> Method:
        code = geometry.method or self.specification.method
        if self._methods is not None and code in self._methods:
            return self._methods[code]
        return load_method(code)


@lru_cache(maxsize=16)
def reckoner_for(specification: Specification) -> Reckoner:
    """Return the one reckoner of `specification` with the methods of the method files.

    Houses under one specification share what was reckoned already.
    """
    return Reckoner(specification)


def _lines(geometry: Geometry, settled: Settled) -> Sequence[Line]:
    _refuse_small_opening(geometry)
    terms = settled.terms
    lines: list[Line] = []
    for rule in settled.rules:
        lines += rule.lines(geometry, terms)
    return tuple(lines)


def _refuse_small_opening(geometry: Geometry) -> None:
    if geometry.ro_width_nm >= geometry.unit_width_nm and geometry.ro_height_nm >= geometry.unit_height_nm:
        return
    for name, unit_nm, ro_nm in (
        ("width", geometry.unit_width_nm, geometry.ro_width_nm),
        ("height", geometry.unit_height_nm, geometry.ro_height_nm),
    ):
        if ro_nm < unit_nm:
            raise RowRefused(
                column=f"ro_{name}",
                problem=f"RO {name} {format_length(Length(ro_nm))} is smaller than the unit's "
                f"{format_length(Length(unit_nm))}.",
                remedy="Check both sizes: the unit must go through the rough opening.",
                value=format_length(Length(ro_nm)),
            )
