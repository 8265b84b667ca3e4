"""What stock and open deliveries promise to openings, kept as coverage without an order line."""

from __future__ import annotations

from collections.abc import Collection

from materials.models import Coverage
from materials.selectors.demand import Key
from materials.selectors.netting import Netted
from projects.actors import Actor


def promise(*, by: Actor, netted: Netted) -> None:
    """Take back what stock can't keep and write down what it gives now; the company's row is locked."""
    release(by=by, keys=netted.broken)
    Coverage.objects.bulk_create(
        [
            Coverage(
                company=by.company,
                opening_id=opening,
                material=material,
                quantity=amount.quantity,
                pieces={str(length): count for length, count in amount.pieces.items()},
            )
            for (opening, material), amount in netted.given.items()
        ],
        batch_size=500,
    )


def release(*, by: Actor, keys: Collection[Key]) -> None:
    """Take back what stock promised for `keys`, where no order line counts on it."""
    rows = Coverage.objects.of(by.company).filter(live=True, opening__in={opening for opening, _ in keys})
    covers = list(rows.values_list("pk", "opening", "material", "line"))
    ordered = {(opening, material) for _, opening, material, line in covers if line is not None}
    taken_back = [
        pk
        for pk, opening, material, line in covers
        if line is None and (opening, material) in keys and (opening, material) not in ordered
    ]
    rows.filter(pk__in=taken_back).delete()
