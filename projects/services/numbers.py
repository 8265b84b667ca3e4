"""Numbers without gaps or doubles, per company, kind and year."""

from __future__ import annotations

from django.db import transaction

from projects.actors import Actor
from projects.models import Counter


@transaction.atomic
def next_number(*, by: Actor, kind: str, year: int) -> int:
    """Return the next number of `kind` in `year`, from 1.

    Call it in the transaction that uses the number: a rollback gives it back.
    """
    Counter.objects.of(by.company).get_or_create(
        kind=kind, year=year, defaults={"company": by.company, "last": 0}
    )
    counter = Counter.objects.of(by.company).select_for_update().get(kind=kind, year=year)
    counter.last += 1
    counter.save(update_fields=["last"])
    return counter.last
