"""What papers have in common: what they are drawn from, and the code that opens the page they belong to."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from django.conf import settings
from django.urls import reverse

from projects.models import Company

QUIET = 4
"""The empty border that a QR code needs, in modules. Source: ISO/IEC 18004, quiet zone, from memory."""


@dataclass(frozen=True, slots=True)
class Code:
    """A QR code as a shape: `side` in modules with its quiet zone, `moves` the path around what is dark."""

    address: str
    side: int
    moves: str


def code_for(route: str, *arguments: object) -> Code | None:
    """Return the code that opens the page `route`; None where SITE_URL does not say on which site."""
    if not settings.SITE_URL:
        return None
    return code_of(f"{settings.SITE_URL}{reverse(route, args=arguments)}")


def code_of(address: str) -> Code:
    """Return the code of an address. Level M: it still reads with 15 % of it dirty, as on a wet wall."""
    import segno

    drawn = segno.make_qr(address, error="m", boost_error=False)
    rows = [tuple(row) for row in drawn.matrix]
    return Code(address, len(rows) + 2 * QUIET, "".join(_bars(rows)))


def printed_hash(company: Company, made_from: str) -> str:
    """Return a SHA-256 of what a paper is drawn from: its own inputs, the company's paper, the site."""
    return hashlib.sha256(f"{made_from}:{company.paper}:{settings.SITE_URL}".encode()).hexdigest()


def _bars(rows: list[tuple[int, ...]]) -> Iterator[str]:
    """Yield one bar for each run of dark modules in a row."""
    for y, row in enumerate(rows, QUIET):
        for is_dark, run in groupby(enumerate(row, QUIET), key=lambda module: bool(module[1])):
            places = [x for x, _ in run]
            if is_dark:
                yield f"M{places[0]} {y}h{len(places)}v1h-{len(places)}z"
