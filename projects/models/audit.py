"""Who wrote what, when: one row per write, never changed, never deleted."""

from __future__ import annotations

from django.db import models

from projects.models.constraints import text_between
from projects.models.owned import Owned
from projects.models.people import User


class AuditEntry(Owned):
    """One write. `actor` is the name as it was then, or `command line`; triggers keep the row as it is."""

    at = models.DateTimeField()
    user = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    actor = models.CharField(max_length=254)
    action = models.CharField(max_length=64)
    subject_kind = models.CharField(max_length=64)
    subject_id = models.PositiveBigIntegerField()
    subject_name = models.CharField(max_length=254)
    before = models.JSONField(null=True, blank=True)
    after = models.JSONField(null=True, blank=True)
    request_id = models.CharField(max_length=64, blank=True, default="")

    class Meta:
        verbose_name_plural = "audit entries"
        indexes = [
            models.Index(fields=["company", "subject_kind", "subject_id", "id"], name="audit_subject"),
        ]
        constraints = [
            text_between("actor", shortest=1, longest=254, name="audit_actor_length"),
            text_between("action", shortest=1, longest=64, name="audit_action_length"),
        ]

    def __str__(self) -> str:
        """Return who did what."""
        return f"{self.actor}: {self.action} {self.subject_name}"
