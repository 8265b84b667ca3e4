"""What an opening and a house need: lines, weight, people and notices. Pure."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import astuple, dataclass
from typing import NamedTuple

from openings.methods.method import Method
from openings.takeoff.contradictions import contradictions_of, house_notices_of
from openings.takeoff.demand import Demand, Line, add_lines
from openings.takeoff.geometry import Geometry, geometry_of
from openings.takeoff.lifting import lift_notice, people_to_set, weight_of
from openings.takeoff.neighbours import crowded
from openings.takeoff.notices import Notice
from openings.takeoff.opening import OpeningInput
from openings.takeoff.reckoner import Reckoned, Reckoner, reckoner_for
from openings.takeoff.specification import Specification
from openings.takeoff.terms import RowRefused
from projects.errors import BadValue
from projects.problems import Problem
from projects.quantities.mass import Mass

RULES_VERSION = "1"
"""Changes whenever the same inputs would bring another output; the goldens of a version never change."""


class OpeningTakeoff(NamedTuple):
    """What one opening needs. `weight` is None where the schedule gives none."""

    opening: OpeningInput
    lines: Sequence[Line]
    notices: Sequence[Notice]
    weight: Mass | None
    people: int
    needs_lift: bool


@dataclass(frozen=True, slots=True)
class HouseTakeoff:
    """What a house needs: its openings in the given order, and everything together.

    `problems` name what could not be taken off; those openings are left out. `notices` hold for the house.
    """

    specification: Specification
    openings: Sequence[OpeningTakeoff]
    notices: Sequence[str]
    problems: Sequence[Problem]

    @property
    def demand(self) -> Demand:
        """Return what the openings need together, added up when asked: most ask for the openings alone."""
        counted: dict[Geometry, tuple[Sequence[Line], int]] = {}
        for each in self.openings:
            geometry = geometry_of(each.opening)
            lines, times = counted.get(geometry, (each.lines, 0))
            counted[geometry] = lines, times + 1
        return add_lines(counted.values())


def take_off(opening: OpeningInput, specification: Specification, method: Method) -> OpeningTakeoff:
    """Return what `opening` needs when installed by `method`.

    Raises BadValue where choices contradict each other, no stock fits, or the RO is smaller than the unit.
    """
    reckoner = Reckoner(specification, {method.code: method})
    return _take_off(opening, reckoner.reckon(replace_method(opening, method)), specification)


def replace_method(opening: OpeningInput, method: Method) -> Geometry:
    """Return the opening's geometry with `method` named in it."""
    return geometry_of(opening)._replace(method=method.code)


def take_off_house(
    openings: Sequence[OpeningInput],
    specification: Specification,
    methods: Mapping[str, Method] | None = None,
) -> HouseTakeoff:
    """Return what the openings of one house need, each by its own method or the specification's.

    `methods` by code; without it, those of the method files.
    """
    problems = list(contradictions_of(specification))
    reckoner = reckoner_for(specification) if methods is None else Reckoner(specification, methods)
    taken: list[OpeningTakeoff] = []
    known: dict[Geometry, Reckoned] = {}
    for opening in openings if not problems else ():
        geometry = geometry_of(opening)
        try:
            if geometry not in known:
                known[geometry] = reckoner.reckon(geometry)
        except BadValue as error:
            problems.append(_problem(error, opening))
            continue
        taken.append(_take_off(opening, known[geometry], specification))
    taken = _with_crowding(taken, specification)
    shared, taken = _say_once(taken)
    return HouseTakeoff(
        specification=specification,
        openings=tuple(taken),
        notices=(*house_notices_of(specification), *shared) if taken else (),
        problems=tuple(problems),
    )


def input_hash(openings: Iterable[OpeningInput], specification: Specification) -> str:
    """Return a SHA-256 of everything the takeoff reads, whatever the order of the openings.

    The same hash means the same answer. It covers RULES_VERSION, which changes with rules and method files.
    """
    digest = hashlib.sha256(repr((RULES_VERSION, astuple(specification))).encode())
    for text in sorted(repr(_read_of(opening)) for opening in openings):
        digest.update(text.encode())
    return digest.hexdigest()


def _read_of(opening: OpeningInput) -> tuple[int | str | None, ...]:
    offset, height, weight, glass = opening.offset, opening.sill_height, opening.weight, opening.glass
    return (
        *geometry_of(opening),
        opening.elevation,
        opening.mark,
        None if offset is None else offset.nm,
        None if height is None else height.nm,
        None if weight is None else weight.ug,
        *((None, None) if glass is None else (glass.panes, glass.thickness.nm)),
    )


def _take_off(opening: OpeningInput, reckoned: Reckoned, specification: Specification) -> OpeningTakeoff:
    terms, lines, notices = reckoned
    weight = weight_of(opening, specification.frame_share)
    heavy = lift_notice(weight, terms.method.pace)
    return OpeningTakeoff(
        opening=opening,
        lines=lines,
        notices=(*notices, Notice(heavy)) if heavy else notices,
        weight=weight,
        people=people_to_set(weight, terms.method.pace),
        needs_lift=heavy is not None,
    )


def _with_crowding(taken: Sequence[OpeningTakeoff], specification: Specification) -> list[OpeningTakeoff]:
    found: dict[int, tuple[Notice, ...]] = {}
    for index, text in crowded([each.opening for each in taken], specification):
        found[index] = (*found.get(index, ()), Notice(text))
    return [
        each._replace(notices=(*each.notices, *found[index])) if index in found else each
        for index, each in enumerate(taken)
    ]


def _say_once(taken: Sequence[OpeningTakeoff]) -> tuple[list[str], list[OpeningTakeoff]]:
    """Return the notices that every opening has, said once, and the openings without them."""
    alone = len(taken) == 1
    # what all have, the first one has
    shared = [
        notice
        for notice in dict.fromkeys(taken[0].notices if taken else ())
        if (notice.by_settings or not alone) and all(notice in each.notices for each in taken)
    ]
    if not shared:
        return [], list(taken)
    return [notice.text for notice in shared], [
        each._replace(notices=tuple(notice for notice in each.notices if notice not in shared))
        for each in taken
    ]


def _problem(error: BadValue, opening: OpeningInput) -> Problem:
    value = None if error.value is None else str(error.value)
    column = error.column if isinstance(error, RowRefused) else None
    return Problem(
        f"{opening.mark}: {error.problem}", error.remedy, row=opening.row, column=column, value=value
    )
