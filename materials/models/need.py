"""By when an elevation's materials must be on the truck."""

from __future__ import annotations

from django.db import models

from projects.models import Elevation, Owned
from projects.models.constraints import one_of


class NeedDate(Owned):
    """The working day on which an elevation is done. `basis`: the builder's wish, or the crew's plan."""

    elevation = models.OneToOneField(Elevation, on_delete=models.PROTECT, related_name="need_date")
    date = models.DateField()
    basis = models.CharField(max_length=9, default="builder")
    set_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["date", "id"]
        indexes = [models.Index(fields=["company", "date"], name="need_by_date")]
        constraints = [one_of("basis", ["builder", "crew plan"], name="need_basis")]

    def __str__(self) -> str:
        """Return the day."""
        return self.date.isoformat()
