"""Who gets what from every address: the rows of `rows/*.csv`, one file per app.

A row names a route and a method, how its arguments are filled (`pk=house` takes the number of the company's
house, `token:used` a fixed text), and the status that each role gets for an empty form or no query.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from django.urls import URLPattern, URLResolver, get_resolver, reverse

from tests.access.world import World

ROLES = ("anonymous", "crew", "foreman", "manager", "owner", "stranger")
NOBODYS = 999_999
METHODS = ("GET", "POST")
FILES = sorted((Path(__file__).parent / "rows").glob("*.csv"))


@dataclass(frozen=True)
class Row:
    """One address and method with what each role gets."""

    route: str
    method: str
    arguments: str
    expected: dict[str, int]

    def address(self, world: World, *, missing: bool = False) -> str:
        """Return the address, of things that belong to the company, or of things that nobody has."""
        filled = {}
        for argument in self.arguments.split():
            name, thing, text = argument.partition("=")
            if thing:
                filled[name] = NOBODYS if missing else world.thing(text).pk
            else:
                name, _, text = argument.partition(":")
                filled[name] = text
        return reverse(self.route, kwargs=filled)

    def __str__(self) -> str:
        """Return route and method, as the test's name shows them."""
        return f"{self.method} {self.route}"


def rows() -> list[Row]:
    """Return every row of every app."""
    found = []
    for file in FILES:
        with file.open(newline="") as lines:
            found += [_row(line) for line in csv.DictReader(lines)]
    return found


def _row(line: dict[str, str]) -> Row:
    expected = {role: int(line[role]) for role in ROLES}
    return Row(route=line["route"], method=line["method"], arguments=line["arguments"], expected=expected)


def routes() -> list[URLPattern]:
    """Return every address that the resolver knows."""
    return list(_walk(get_resolver().url_patterns))


def _walk(patterns: list[URLPattern | URLResolver]) -> Iterator[URLPattern]:
    for pattern in patterns:
        if isinstance(pattern, URLResolver):
            yield from _walk(pattern.url_patterns)
        else:
            yield pattern
