"""Takes off geometries under one specification and remembers each, so that repeats cost a look-up. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from openings.methods.load import load_method
from openings.methods.method import Method
from openings.takeoff.demand import Demand, Line, add_demands, demand_of
from openings.takeoff.geometry import Geometry
from openings.takeoff.notices import Notice, notices_of_choices, notices_of_sizes
from openings.takeoff.rules.registry import rules_for
from openings.takeoff.rules.rule import Rule
from openings.takeoff.specification import Specification
from openings.takeoff.terms import RowRefused, Terms, overrides_of, settle_terms
from projects.quantities.length import Length
from projects.quantities.text import format_length

MOST_KEPT = 20_000
MOST_DEMANDS_KEPT = 100_000
"""Geometries whose lines and whose demands are kept; beyond it all are forgotten and reckoned again."""


@dataclass(frozen=True, slots=True)
class Settled:
    """What the overrides of a geometry decide once for all its sizes."""

    terms: Terms
    rules: tuple[Rule, ...]
    notices: tuple[Notice, ...]


class Reckoner:
    """One specification's takeoff. `methods` by code; without it, those of the method files."""

    def __init__(self, specification: Specification, methods: Mapping[str, Method] | None = None) -> None:
        """Remember nothing yet."""
        self.specification = specification
        self._methods = methods
        self._settled_by: dict[tuple[object, ...], Settled] = {}
        self._lines: dict[Geometry, Sequence[Line]] = {}
        self._demands: dict[Geometry, Demand] = {}
        self._notices: dict[Geometry, tuple[Notice, ...]] = {}

    def terms(self, geometry: Geometry) -> Terms:
        """Return the terms of `geometry`. Raises RowRefused where its choices contradict each other."""
        return self._settled(geometry).terms

    def lines(self, geometry: Geometry) -> Sequence[Line]:
        """Return the lines of `geometry`, in listing order.

        Raises RowRefused where its choices contradict each other or the RO is smaller than the unit.
        """
        known = self._lines.get(geometry)
        if known is None:
            if len(self._lines) >= MOST_KEPT:
                self._forget()
            known = self._lines[geometry] = self._reckon(geometry)
        return known

    def notices(self, geometry: Geometry) -> tuple[Notice, ...]:
        """Return what is worth knowing of `geometry`: of its choices first, then of its sizes."""
        known = self._notices.get(geometry)
        if known is None:
            settled, lines = self._settled(geometry), self.lines(geometry)
            of_sizes = notices_of_sizes(geometry, settled.terms, lines)
            known = self._notices[geometry] = (*settled.notices, *of_sizes)
        return known

    def demand(self, geometry: Geometry) -> Demand:
        """Return what one opening of `geometry` needs. Raises RowRefused as `lines` does.

        The lines themselves are not kept: a hundred thousand openings would fill the memory with them.
        """
        known = self._demands.get(geometry)
        if known is None:
            if len(self._demands) >= MOST_DEMANDS_KEPT:
                self._demands.clear()
            lines = self._lines.get(geometry) or self._reckon(geometry)
            known = self._demands[geometry] = demand_of(lines)
        return known

    def roll_up(self, counted: Iterable[tuple[Geometry, int]]) -> Demand:
        """Return what so many openings of each geometry need together: the sum of their demands."""
        return add_demands((self.demand(geometry), count) for geometry, count in counted)

    def _forget(self) -> None:
        self._lines.clear()
        self._notices.clear()

    def _reckon(self, geometry: Geometry) -> Sequence[Line]:
        settled = self._settled(geometry)
        _refuse_small_opening(geometry)
        lines: list[Line] = []
        for rule in settled.rules:
            lines.extend(rule.lines(geometry, settled.terms))
        return tuple(lines)

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
