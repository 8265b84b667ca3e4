"""What an opening needs, line by line, and what many openings need together. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple, Protocol

from openings.methods.method import Grade
from openings.takeoff.section import volume_along

# Lines are tuples, for they are made by the hundred thousand; nobody asks them for tuple's own `count`.


class Need(NamedTuple):
    """One thing that can be added up over openings: a part of a size and a length, in nanometres.

    Kinds and their amounts: strip, tape, stick, piece, fasteners (numbers), sealant, foam (picolitres),
    rod (nanometres). `size_nm` is a width, a diameter or, for fasteners, the screw's length.
    """

    kind: str
    part: str
    size_nm: int = 0
    length_nm: int = 0


# what `Need(...)` comes to without its detour: lines ask for one by the hundred thousand
_need = tuple.__new__


@dataclass(frozen=True, slots=True)
class Stated:
    """What a rule says of its lines: the part, the formula in words, how far it is to be trusted and why.

    `inputs` name what the formula reads: sizes of the row, settings of the specification. `bought_as` names
    what is bought where that is not the part itself. `need` is what lines without a size add up to.
    """

    part: str
    kind: str
    basis: str
    grade: Grade
    source: str
    inputs: tuple[str, ...] = ()
    bought_as: str = ""
    need: Need = field(init=False)

    def __post_init__(self) -> None:
        """Name the need once, for all lines."""
        kind = "sealant" if self.kind == "bead" else self.kind
        object.__setattr__(self, "need", Need(kind, self.bought_as or self.part))


class Section(NamedTuple):
    """What a bead is across: its area, and its diameter where it is round."""

    nm2: int
    diameter_nm: int | None = None


class _Described(Protocol):
    @property
    def stated(self) -> Stated: ...


class _Line:
    """What every line tells about itself through its rule."""

    __slots__ = ()

    @property
    def part(self: _Described) -> str:
        """Return the part's trade name."""
        return self.stated.part

    @property
    def kind(self: _Described) -> str:
        """Return the line's kind: strip, bead, fasteners and so on."""
        return self.stated.kind

    @property
    def basis(self: _Described) -> str:
        """Return the formula in words."""
        return self.stated.basis

    @property
    def grade(self: _Described) -> Grade:
        """Return how well the rule is founded: P, M, C, D or E."""
        return self.stated.grade

    @property
    def source(self: _Described) -> str:
        """Return where the rule comes from."""
        return self.stated.source


class _StripFields(NamedTuple):
    stated: Stated
    zone: str
    length_nm: int
    width_nm: int
    count: int = 1  # type: ignore[assignment]


class Strip(_StripFields, _Line):
    """Flashing membrane: `count` pieces of one length and width."""

    __slots__ = ()

    def need(self) -> tuple[Need, int]:
        """Return the strips by width and length."""
        stated, _, length_nm, width_nm, count = self
        return _need(Need, ("strip", stated.need.part, width_nm, length_nm)), count


class Tape(_StripFields, _Line):
    """WRB tape: `count` pieces of one length and width."""

    __slots__ = ()

    def need(self) -> tuple[Need, int]:
        """Return the tapes by width and length."""
        stated, _, length_nm, width_nm, count = self
        return _need(Need, ("tape", stated.part, width_nm, length_nm)), count


class _BeadFields(NamedTuple):
    stated: Stated
    zone: str
    length_nm: int
    section: Section
    count: int = 1  # type: ignore[assignment]


class Bead(_BeadFields, _Line):
    """Sealant along a side, without waste."""

    __slots__ = ()

    @property
    def volume_pl(self) -> int:
        """Return section x length in picolitres."""
        return volume_along(self.section.nm2, self.length_nm)

    def need(self) -> tuple[Need, int]:
        """Return the sealant in picolitres."""
        return self.stated.need, volume_along(self.section.nm2, self.length_nm)


class _FastenersFields(NamedTuple):
    stated: Stated
    zone: str
    side_nm: int
    corner_nm: int
    spaces: int
    screw_nm: int | None


class Fasteners(_FastenersFields, _Line):
    """Screws of one side: `spaces` equal spaces between the corner distances; none: one at the middle."""

    __slots__ = ()

    @property
    def count(self) -> int:  # type: ignore[override]
        """Return how many screws."""
        return self.spaces + 1

    @property
    def positions_nm(self) -> tuple[int, ...]:
        """Return the positions from the left, at jambs from the bottom, each rounded to the nanometre."""
        if not self.spaces:
            return (self.side_nm // 2,)
        span, spaces = self.side_nm - 2 * self.corner_nm, self.spaces
        return tuple(self.corner_nm + (2 * i * span + spaces) // (2 * spaces) for i in range(spaces + 1))

    @property
    def spacing_nm(self) -> int | None:
        """Return the distance between screws, rounded to the nanometre; None where there is only one."""
        if not self.spaces:
            return None
        span, spaces = self.side_nm - 2 * self.corner_nm, self.spaces
        return (2 * span + spaces) // (2 * spaces)

    def need(self) -> tuple[Need, int]:
        """Return the screws by length; length 0 where no stock screw is long enough."""
        return _need(Need, ("fasteners", self.stated.part, self.screw_nm or 0, 0)), self.spaces + 1


class _PieceFields(NamedTuple):
    stated: Stated
    zone: str
    count: int  # type: ignore[assignment]
    width_nm: int | None = None
    depth_nm: int | None = None
    points: int | None = None


class Piece(_PieceFields, _Line):
    """Things counted one by one; a rigid pan has a width and a depth, shims have points."""

    __slots__ = ()

    def need(self) -> tuple[Need, int]:
        """Return the pieces, of a width where they have one."""
        if self.width_nm is None:
            return self.stated.need, self.count
        return Need("piece", self.stated.part, self.width_nm), self.count


class _FoamFields(NamedTuple):
    stated: Stated
    zone: str
    volume_pl: int
    count: int = 1  # type: ignore[assignment]


class Foam(_FoamFields, _Line):
    """Low-expansion foam between unit and rough opening along one side."""

    __slots__ = ()

    def need(self) -> tuple[Need, int]:
        """Return the foam in picolitres."""
        return self.stated.need, self.volume_pl


class _RodFields(NamedTuple):
    stated: Stated
    zone: str
    length_nm: int
    diameter_nm: int | None
    count: int = 1  # type: ignore[assignment]


class Rod(_RodFields, _Line):
    """Backer rod along one side; no diameter where no stock rod is thick enough."""

    __slots__ = ()

    def need(self) -> tuple[Need, int]:
        """Return the rod in nanometres by diameter; diameter 0 where no stock rod fits."""
        return Need("rod", self.stated.part, self.diameter_nm or 0), self.length_nm


class _StickFields(NamedTuple):
    stated: Stated
    zone: str
    length_nm: int
    count: int = 1  # type: ignore[assignment]


class Stick(_StickFields, _Line):
    """A piece cut from a stick, such as a drip cap."""

    __slots__ = ()

    def need(self) -> tuple[Need, int]:
        """Return the pieces by length."""
        return Need("stick", self.stated.part, 0, self.length_nm), self.count


Line = Strip | Tape | Bead | Fasteners | Piece | Foam | Rod | Stick
Demand = Mapping[Need, int]
"""What openings need together: an amount per need. Demands of two sets add up to the demand of both."""


def demand_of(lines: Iterable[Line]) -> Demand:
    """Return what `lines` need together."""
    return add_lines([(lines, 1)])


def add_lines(counted: Iterable[tuple[Iterable[Line], int]]) -> Demand:
    """Return what lines need together, each set of them taken so many times."""
    total: dict[Need, int] = {}
    for lines, times in counted:
        for line in lines:
            need, amount = line.need()
            total[need] = total.get(need, 0) + amount * times
    return total


def add_demands(demands: Iterable[tuple[Demand, int]]) -> Demand:
    """Return the sum of demands, each taken so many times."""
    total: dict[Need, int] = {}
    for demand, times in demands:
        for need, amount in demand.items():
            total[need] = total.get(need, 0) + amount * times
    return total
