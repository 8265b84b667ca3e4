"""Of which materials a company lets strips be spliced."""

from __future__ import annotations

from django.db import models

from projects.models import Owned
from projects.models.constraints import at_least, text_between
from projects.quantities.length import NM_PER_INCH

LEAST_LAP_NM = 4 * NM_PER_INCH
"""Common practice, no source: field guide, section 4."""


class SpliceRule(Owned):
    """A strip of `material` may be made of two that overlap by the lap; without a row it is one piece."""

    material = models.CharField(max_length=64)
    lap_nm = models.BigIntegerField()

    class Meta:
        ordering = ["material"]
        constraints = [
            models.UniqueConstraint(fields=["company", "material"], name="splice_rule_once"),
            at_least("lap_nm", LEAST_LAP_NM, name="splice_rule_lap"),
            text_between("material", shortest=1, longest=64, name="splice_rule_material_length"),
        ]

    def __str__(self) -> str:
        """Return the material."""
        return self.material
