"""Of which materials strips may be spliced."""

from __future__ import annotations

from dataclasses import dataclass

from materials.catalogue.load import load_catalogue
from materials.models import SpliceRule
from projects.models import Company
from projects.quantities.length import Length


@dataclass(frozen=True, slots=True)
class SpliceShown:
    """One material of which strips may be spliced, and the lap of the two."""

    row: SpliceRule
    name: str
    lap: Length


def splices_shown(company: Company) -> tuple[SpliceShown, ...]:
    """Return what may be spliced, in catalogue order."""
    rows = {row.material: row for row in SpliceRule.objects.of(company)}
    return tuple(
        SpliceShown(rows[key], material.name, Length(rows[key].lap_nm))
        for key, material in load_catalogue().materials.items()
        if key in rows
    )


def laps_of(company: Company) -> dict[str, int]:
    """Return the lap in nanometres by the material that may be spliced."""
    return dict(SpliceRule.objects.of(company).values_list("material", "lap_nm"))
