"""What must hold of stock: each lot's lines add up at each place and never fall below nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from config.invariants.report import Search, searched
from materials.models import Lot, Movement
from projects.models import Company


def adds_up(company: Company) -> Search:
    """I4: what lies at a place is the sum of its lines, in whole pieces, at no line below nothing."""
    rows = Movement.objects.of(company).order_by("lot", "place", "number").select_related("lot", "place")
    return searched(
        (f"{lines[0].lot} in {lines[0].place}", _of(lines[0].lot, lines))
        for lines in (list(group) for _, group in groupby(rows, key=lambda row: (row.lot_id, row.place_id)))
    )


def _of(lot: Lot, lines: Sequence[Movement]) -> Iterator[str]:
    there = 0
    for number, line in enumerate(lines, 1):
        there += line.quantity
        if line.number != number:
            yield f"has line {line.number} where {number} comes"
        if line.balance != there:
            yield f"says {line.balance} after line {number}, its lines come to {there}"
        if there < 0:
            yield f"falls to {there} at line {number}"
        if line.quantity % lot.piece_size:
            yield f"moves part of a piece at line {number}"
