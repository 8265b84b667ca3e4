"""Where the openings of an elevation stand: measured where the schedule says so, else evenly spaced. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from projects.errors import BadValue
from projects.quantities.length import Length

STATES = ("waiting", "prepared", "set", "sealed", "curing", "closed", "checked")
ASSUMED_HEAD = Length.inches(96)
LOWEST_SILL = Length.inches(12)
SPACE = 36.0  # inches between openings whose place is not known, and beside the last
TIGHT = 6.0
SHORTEST_WALL = 120.0


@dataclass(frozen=True, slots=True)
class DrawnOpening:
    """An opening to draw: `offset` to the RO from the elevation's left end, `sill_height` above grade."""

    mark: str
    ro_width: Length
    ro_height: Length
    unit_width: Length
    unit_height: Length
    offset: Length | None = None
    sill_height: Length | None = None
    state: str = "waiting"

    def __post_init__(self) -> None:
        """Refuse a state that can't be drawn."""
        if self.state not in STATES:
            raise BadValue(
                problem=f"{self.mark}: {self.state!r} is no state of an opening.",
                remedy=f"Use one of: {', '.join(STATES)}.",
                value=self.state,
            )

    @property
    def head_height(self) -> Length | None:
        """Return the RO's head above grade, where its sill is known."""
        return None if self.sill_height is None else self.sill_height + self.ro_height


@dataclass(frozen=True, slots=True)
class DrawnElevation:
    """One face of the house; `length` None means: as long as its openings need."""

    name: str
    openings: tuple[DrawnOpening, ...]
    length: Length | None = None


@dataclass(frozen=True, slots=True)
class Placed:
    """An opening with its place in inches: `left` along the wall, `sill` above grade."""

    opening: DrawnOpening
    left: float
    sill: float
    level: int

    @property
    def width(self) -> float:
        """Return the RO's width in inches."""
        return self.opening.ro_width.in_inches

    @property
    def height(self) -> float:
        """Return the RO's height in inches."""
        return self.opening.ro_height.in_inches

    @property
    def right(self) -> float:
        """Return where its right edge is, in inches."""
        return self.left + self.width

    @property
    def head(self) -> float:
        """Return its head above grade, in inches."""
        return self.sill + self.height


@dataclass(frozen=True, slots=True)
class PlacedElevation:
    """An elevation with its openings in place, its length in inches, and what was not in the schedule."""

    name: str
    length: float
    placed: tuple[Placed, ...]
    notes: tuple[str, ...]

    @property
    def top(self) -> float:
        """Return the highest head in inches; 0 without openings."""
        return max((each.head for each in self.placed), default=0.0)


def place(elevation: DrawnElevation) -> PlacedElevation:
    """Return the elevation with every opening in its place, in the schedule's order."""
    levels = _levels(elevation.openings)
    given = elevation.length.in_inches if elevation.length else 0.0
    space = TIGHT if given else SPACE
    length = max([given or SHORTEST_WALL, *(_need(level, space) for level in levels)])
    lefts = {id(each): left for level in levels for each, left in _spaced(level, length)}
    storeys = {id(each): number for number, level in enumerate(levels) for each in level}
    placed = tuple(
        Placed(each, lefts[id(each)], _sill(each), storeys[id(each)]) for each in elevation.openings
    )
    return PlacedElevation(elevation.name, length, placed, _notes(elevation))


def _sill(opening: DrawnOpening) -> float:
    if opening.sill_height is not None:
        return opening.sill_height.in_inches
    return max(ASSUMED_HEAD - opening.ro_height, LOWEST_SILL).in_inches


def _levels(openings: Sequence[DrawnOpening]) -> list[list[DrawnOpening]]:
    """Return the openings by storey, lowest first: those whose heights overlap stand beside each other."""
    levels: list[list[int]] = []
    reached = 0.0
    for number in sorted(range(len(openings)), key=lambda each: _sill(openings[each])):
        sill = _sill(openings[number])
        if not levels or sill >= reached:
            levels.append([])
        levels[-1].append(number)
        reached = max(reached, sill + openings[number].ro_height.in_inches)
    return [[openings[number] for number in sorted(level)] for level in levels]


def _measured_end(level: Sequence[DrawnOpening]) -> float:
    ends = [each.offset.in_inches + each.ro_width.in_inches for each in level if each.offset is not None]
    return max(ends, default=0.0)


def _need(level: Sequence[DrawnOpening], space: float) -> float:
    loose = [each.ro_width.in_inches for each in level if each.offset is None]
    return _measured_end(level) + sum(loose) + space * (len(loose) + 1 if loose else 1)


def _spaced(level: Sequence[DrawnOpening], length: float) -> list[tuple[DrawnOpening, float]]:
    """Return each opening with its left edge; those without an offset evenly in what is left of the wall."""
    loose = [each for each in level if each.offset is None]
    start = _measured_end(level)
    gap = (length - start - sum(each.ro_width.in_inches for each in loose)) / (len(loose) + 1)
    spaced = [(each, each.offset.in_inches) for each in level if each.offset is not None]
    for each in loose:
        start += gap
        spaced.append((each, start))
        start += each.ro_width.in_inches
    return spaced


def _notes(elevation: DrawnElevation) -> tuple[str, ...]:
    notes = []
    loose = [each.mark for each in elevation.openings if each.offset is None]
    if loose:
        notes.append(f"{elevation.name}: no offset given for {_named(loose)}; drawn evenly spaced.")
    high = [each.mark for each in elevation.openings if each.sill_height is None]
    if high:
        notes.append(f"{elevation.name}: no height given for {_named(high)}; drawn with the head 8'-0\" up.")
    return tuple(notes)


def _named(marks: Sequence[str], most: int = 6) -> str:
    return ", ".join(marks) if len(marks) <= most else f"{len(marks)} openings"
