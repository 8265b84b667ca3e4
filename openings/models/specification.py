"""A company's or project's specification, one row per version; a version never changes."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from projects.models import Owned, Project, User
from projects.models.constraints import at_least


class SpecificationVersion(Owned):
    """What a company (no project) or one project has set, as text by setting name.

    A project's settings lie over the company's, and the company's over the built-in defaults. `sources` says
    for a changed setting who stands behind it. The highest number is in force; older ones stay for what was
    ordered or planned from them.
    """

    project = models.ForeignKey(Project, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    number = models.PositiveIntegerField()
    settings = models.JSONField(default=dict, blank=True)
    sources = models.JSONField(default=dict, blank=True)
    note = models.CharField(max_length=200, blank=True, default="")
    created_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(
                fields=["project", "number"], condition=Q(project__isnull=False), name="specification_once"
            ),
            models.UniqueConstraint(
                fields=["company", "number"],
                condition=Q(project__isnull=True),
                name="company_specification_once",
            ),
            at_least("number", 1, name="specification_number"),
        ]

    def __str__(self) -> str:
        """Return the version's number."""
        return f"specification {self.number}"
