"""What is to be cut, and from what: pieces, rolls on sale, offcuts in stock. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from projects.errors import BadValue

Number = int | Fraction
LARGEST = 10**12
MOST_PIECES = 100_000
MOST_ROLLS = 100


@dataclass(frozen=True, slots=True)
class Roll:
    """A roll (or stick) on sale: its length, its cost, and how many can be had (None: as many as wanted)."""

    name: str
    length: Number
    cost: Number
    available: int | None = None

    def __post_init__(self) -> None:
        """Raise BadValue where length or cost cannot be."""
        _check_length(self.length, f"Roll {self.name!r}")
        if not 0 <= self.cost <= LARGEST:
            raise BadValue(
                problem=f"Roll {self.name!r} has the cost {told(self.cost)}.",
                remedy="Give the price of one roll, 0 or more.",
                value=told(self.cost),
            )
        if self.available is not None and self.available < 0:
            raise BadValue(
                problem=f"Roll {self.name!r} has {self.available} available.",
                remedy="Give how many can be had, or null for as many as wanted.",
                value=self.available,
            )


@dataclass(frozen=True, slots=True)
class Offcut:
    """A leftover in stock: one piece of material, already paid for."""

    name: str
    length: Number

    def __post_init__(self) -> None:
        """Raise BadValue where the length cannot be."""
        _check_length(self.length, f"Offcut {self.name!r}")


@dataclass(frozen=True, slots=True)
class Piece:
    """A strip to cut, `count` times. A house's strips are kept on few rolls.

    It is cut in one piece, unless it `may_splice`: then in two, where that saves a roll.
    """

    name: str
    length: Number
    count: int
    house: str = ""
    may_splice: bool = False

    def __post_init__(self) -> None:
        """Raise BadValue where length or count cannot be."""
        _check_length(self.length, f"Piece {self.name!r}")
        if not 0 <= self.count <= MOST_PIECES:
            raise BadValue(
                problem=f"Piece {self.name!r} has the count {self.count}.",
                remedy=f"Give a whole number from 0 to {MOST_PIECES:,}.",
                value=self.count,
            )


@dataclass(frozen=True, slots=True)
class CutProblem:
    """One width of material to cut. All lengths are in one unit, whichever the caller likes.

    `kerf` is lost between two cuts; a leftover of at least `usable_offcut` is worth keeping. The parts of a
    spliced piece overlap by `lap`.
    """

    rolls: tuple[Roll, ...]
    pieces: tuple[Piece, ...]
    offcuts: tuple[Offcut, ...] = ()
    kerf: Number = 0
    usable_offcut: Number = 0
    lap: Number = 0

    def __post_init__(self) -> None:
        """Raise BadValue where names repeat, a limit is negative or the plan would be too large."""
        _check_names((stock.name for stock in self.stock), "roll or offcut")
        _check_names((piece.name for piece in self.pieces), "piece")
        allowances = {"kerf": self.kerf, "usable_offcut": self.usable_offcut, "lap": self.lap}
        for name, value in allowances.items():
            if not 0 <= value <= LARGEST:
                raise BadValue(
                    problem=f"{name} is {told(value)}.", remedy="Give 0 or more.", value=told(value)
                )
        if len(self.rolls) > MOST_ROLLS:
            raise BadValue(
                problem=f"{len(self.rolls)} kinds of roll are too many for one plan.",
                remedy=f"Offer at most {MOST_ROLLS} kinds.",
                value=len(self.rolls),
            )
        if not self.lap and any(piece.may_splice for piece in self.pieces):
            raise BadValue(
                problem="A piece may be spliced, and there is no lap.",
                remedy="Give the lap by which the parts overlap, 4 in at least.",
            )
        total = sum(piece.count for piece in self.pieces)
        if total > MOST_PIECES:
            raise BadValue(
                problem=f"{total:,} pieces are too many for one plan.",
                remedy=f"Split it by house or by order: at most {MOST_PIECES:,} pieces.",
                value=total,
            )

    @property
    def stock(self) -> tuple[Roll | Offcut, ...]:
        """Return all that can be cut from: rolls on sale, then offcuts."""
        return (*self.rolls, *self.offcuts)

    @property
    def longest(self) -> Number:
        """Return the length of the longest roll or offcut that can be had; 0 where there is none."""
        lengths = [offcut.length for offcut in self.offcuts]
        return max((*lengths, *(roll.length for roll in self.rolls if roll.available != 0)), default=0)


def plain(value: Number) -> Number:
    """Return a whole number as int, so that JSON shows 82 and not 82.0."""
    return int(value) if Fraction(value).denominator == 1 else value


def told(value: Number) -> str:
    """Return a number as people write it: `54`, `54.5`."""
    return str(value) if Fraction(value).denominator == 1 else f"{float(value):.10g}"


def _check_length(length: Number, what: str) -> None:
    if not 0 < length <= LARGEST:
        raise BadValue(
            problem=f"{what} has the length {told(length)}.",
            remedy=f"Give a length above 0, up to {LARGEST:,}.",
            value=told(length),
        )


def _check_names(names: Iterable[str], what: str) -> None:
    seen: set[str] = set()
    for name in names:
        if not name.strip():
            raise BadValue(problem=f"A {what} has no name.", remedy="Name it: the cut list shows the name.")
        if name in seen:
            raise BadValue(
                problem=f"Two entries for a {what} are named {name!r}.",
                remedy="Give each its own name, or add up their counts.",
                value=name,
            )
        seen.add(name)
