"""Keeping what houses come to, so that pages need not compute it again."""

from __future__ import annotations

from materials.catalogue.kept import plain_totals
from materials.models import KeptRollUp
from materials.selectors.rollups import roll_ups_of
from projects.models import Company
from projects.selectors import live_houses

ROWS_AT_ONCE = 200


def keep_roll_ups(*, company: Company) -> int:
    """Keep the totals of the company's houses that changed since they were kept; return how many.

    Nobody is asked and nothing is audited: the rows say nothing that the openings do not say already.
    """
    found = roll_ups_of(company, list(live_houses(company)))
    rows = [
        KeptRollUp(
            company=company,
            house_id=house,
            input_hash=input_hash,
            totals=plain_totals(found.totals[house]),
        )
        for house, input_hash in found.made.items()
    ]
    KeptRollUp.objects.bulk_create(
        rows,
        batch_size=ROWS_AT_ONCE,
        update_conflicts=True,
        unique_fields=["house"],
        update_fields=["input_hash", "totals", "made_at"],
    )
    return len(rows)
