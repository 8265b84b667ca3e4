"""A window schedule that somebody sent in: the file as it came, and whether it was taken over."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from projects.models import House, Owned, User
from projects.models.constraints import one_of, text_between


class ScheduleImport(Owned):
    """A file for one house. It is read anew for the preview and at confirmation; the bytes stay as sent."""

    class State(models.TextChoices):
        """Where the import stands."""

        PREVIEW = "preview", "in preview"
        SAVED = "saved", "taken over"
        REFUSED = "refused", "put away"

    house = models.ForeignKey(House, on_delete=models.PROTECT, related_name="schedule_imports")
    file_name = models.CharField(max_length=255)
    content = models.BinaryField()
    content_hash = models.CharField(max_length=64)
    sheet = models.CharField(max_length=64, blank=True, default="")
    match = models.JSONField(default=dict, blank=True)
    state = models.CharField(max_length=8, choices=State.choices, default=State.PREVIEW)
    created_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)
    decided_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-id"]
        constraints = [
            text_between("file_name", shortest=1, longest=255, name="schedule_file_name_length"),
            one_of("state", ["preview", "saved", "refused"], name="schedule_state"),
            models.CheckConstraint(
                condition=Q(state="preview", decided_at__isnull=True) | ~Q(state="preview"),
                name="schedule_decided_once",
            ),
        ]

    def __str__(self) -> str:
        """Return the file's name."""
        return self.file_name
