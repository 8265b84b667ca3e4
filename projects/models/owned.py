"""Rows that belong to one company, and the only way to reach them."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from django.db import models

if TYPE_CHECKING:
    from projects.models.company import Company

Row = TypeVar("Row", bound=models.Model)


class OwnedRows(models.QuerySet[Row]):
    """Rows of one company: every query starts with `of`, a test searches the code for those that do not."""

    def of(self, company: Company) -> OwnedRows[Row]:
        """Return the rows of `company`."""
        return self.filter(company=company)


class Owned(models.Model):
    """A row that hangs below a company. Triggers refuse a reference to another company's row."""

    company = models.ForeignKey("projects.Company", on_delete=models.PROTECT, related_name="+")

    objects = OwnedRows.as_manager()

    class Meta:
        abstract = True
