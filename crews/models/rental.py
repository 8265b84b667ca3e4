"""What it costs a day to get up to an opening."""

from __future__ import annotations

from django.db import models

from projects.models import Access, Owned
from projects.models.constraints import one_of, text_between


class Rental(Owned):
    """A ladder's or lift's rent for a day; without a row the estimate in `costing` holds."""

    access = models.CharField(max_length=8, choices=Access.choices)
    cents_per_day = models.PositiveIntegerField()
    grade = models.CharField(max_length=1, default="E")
    source = models.CharField(max_length=200)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["access"]
        constraints = [
            models.UniqueConstraint(fields=["company", "access"], name="rental_once_per_access"),
            one_of("access", [Access.LADDER, Access.LIFT], name="rental_access"),
            one_of("grade", "PMCDE", name="rental_grade"),
            text_between("source", shortest=1, longest=200, name="rental_source_length"),
        ]

    def __str__(self) -> str:
        """Return what is rented."""
        return self.access
