"""What fits what: kinds of sealant, membrane, fin and WRB, and what is said of two of them together. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from openings.methods.method import Grade
from projects.errors import BadValue


class Part(StrEnum):
    """What a kind is a kind of."""

    SEALANT = "sealant"
    MEMBRANE = "membrane"
    FIN = "fin"
    WRB = "WRB"


class Answer(StrEnum):
    """What an entry says of its two kinds."""

    YES = "yes"
    ASK = "ask the maker"
    NO = "no"


NO_ENTRY = "no entry"
TOUCHING = (
    (Part.SEALANT, Part.MEMBRANE),
    (Part.SEALANT, Part.FIN),
    (Part.SEALANT, Part.WRB),
    (Part.MEMBRANE, Part.FIN),
    (Part.MEMBRANE, Part.WRB),
)
"""The parts of which two lie on each other; a fin lies on the WRB dry, so that nothing is asked of them."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of a part; `key` is its own among all parts."""

    part: Part
    key: str
    name: str


@dataclass(frozen=True, slots=True)
class Entry:
    """What is said of two kinds, why, and who says so."""

    one: str
    other: str
    answer: Answer
    reason: str
    grade: Grade
    source: str


@dataclass(frozen=True, slots=True)
class PairTable:
    """All kinds by key in the file's order, and all entries by the keys of both kinds."""

    kinds: Mapping[str, Kind]
    entries: Mapping[tuple[str, str], Entry]

    def kind(self, key: str) -> Kind:
        """Return the kind with `key`. Raises BadValue where there is none."""
        if key not in self.kinds:
            raise BadValue(
                problem=f"{key!r} is no kind of sealant, membrane, fin or WRB.",
                remedy="Choose from the list.",
                value=key,
            )
        return self.kinds[key]

    def of(self, part: Part) -> tuple[Kind, ...]:
        """Return the kinds of a part, in the file's order."""
        return tuple(kind for kind in self.kinds.values() if kind.part is part)


@dataclass(frozen=True, slots=True)
class Judged:
    """Two kinds that touch, and what the table says of them: None where it says nothing."""

    one: Kind
    other: Kind
    entry: Entry | None

    @property
    def answer(self) -> str:
        """Return the entry's answer, or that there is none."""
        return self.entry.answer if self.entry else NO_ENTRY

    @property
    def fits(self) -> bool:
        """Return whether nobody has to answer for the two."""
        return self.answer == Answer.YES

    @property
    def is_refused(self) -> bool:
        """Return whether the table says that they do not fit: an error, no mere warning."""
        return self.answer == Answer.NO

    @property
    def keys(self) -> tuple[str, str]:
        """Return the keys of both kinds, by which an entry is found."""
        return self.one.key, self.other.key

    @property
    def told(self) -> str:
        """Return both kinds as a sentence names them."""
        return f"{self.one.name} with {self.other.name}"


def judge(used: Iterable[str], table: PairTable) -> tuple[Judged, ...]:
    """Return every two of the used kinds that touch, with the entry of each or none.

    `used` are keys in any order; the answer is in the order of TOUCHING and of the file. Raises BadValue
    for a key that is no kind.
    """
    named = {table.kind(key).key for key in used}
    kinds = [kind for key, kind in table.kinds.items() if key in named]
    return tuple(_judged(kinds, table))


def unnamed_parts(used: Iterable[str], table: PairTable) -> tuple[Part, ...]:
    """Return the parts of which no used kind is named: of them nothing can be judged."""
    named = {table.kind(key).part for key in used}
    return tuple(part for part in Part if part not in named)


def _judged(kinds: list[Kind], table: PairTable) -> Iterator[Judged]:
    for first, second in TOUCHING:
        for one in (kind for kind in kinds if kind.part is first):
            for other in (kind for kind in kinds if kind.part is second):
                yield Judged(one, other, table.entries.get((one.key, other.key)))
