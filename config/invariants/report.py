"""What must hold in the database at any moment, and what a search for the contrary found."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from projects.models import Company


@dataclass(frozen=True, slots=True)
class Broken:
    """One place where something does not hold."""

    where: str
    what: str


@dataclass(frozen=True, slots=True)
class Search:
    """What was looked at, counted in things that a person can count, and what is broken there."""

    looked_at: int
    broken: tuple[Broken, ...]


@dataclass(frozen=True, slots=True)
class Finding:
    """One invariant after the search of every company."""

    code: str
    rule: str
    looked_at: int
    broken: tuple[Broken, ...]

    @property
    def holds(self) -> bool:
        """Return whether nothing is broken."""
        return not self.broken


Searching = Callable[[Company], Search]


def searched(things: Iterable[tuple[str, Iterable[str]]]) -> Search:
    """Return the search of things, each with its name and what is wrong with it."""
    count, broken = 0, []
    for name, faults in things:
        count += 1
        broken += [Broken(name, fault) for fault in faults]
    return Search(count, tuple(broken))


def together(code: str, rule: str, searches: Iterator[Search]) -> Finding:
    """Return the finding over several searches."""
    found = list(searches)
    return Finding(
        code,
        rule,
        sum(search.looked_at for search in found),
        tuple(each for search in found for each in search.broken),
    )
