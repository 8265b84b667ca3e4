"""Background work as a row: what was asked, how far it is, and what came of it."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from projects.models.constraints import one_of
from projects.models.owned import Owned
from projects.models.people import User


class Job(Owned):
    """One piece of background work. This row is the truth about it; the broker only nudges a worker.

    `claim` is the word of the worker that has it: one that was thought dead and comes back no longer knows
    the word, and changes nothing.
    """

    class State(models.TextChoices):
        """Where the work stands."""

        QUEUED = "queued", "waiting"
        RUNNING = "running", "in work"
        DONE = "done", "ready"
        FAILED = "failed", "failed"
        CANCELLED = "cancelled", "cancelled"

    kind = models.CharField(max_length=64)
    input_hash = models.CharField(max_length=64)
    arguments = models.JSONField(default=dict, blank=True)
    state = models.CharField(max_length=10, choices=State.choices, default=State.QUEUED)
    progress = models.PositiveSmallIntegerField(default=0)
    progress_text = models.CharField(max_length=200, blank=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    claim = models.CharField(max_length=32, blank=True)
    nudged_at = models.DateTimeField(null=True, blank=True)
    heartbeat = models.DateTimeField(null=True, blank=True)
    file_path = models.CharField(max_length=255, blank=True)
    file_name = models.CharField(max_length=255, blank=True)
    content_type = models.CharField(max_length=100, blank=True)
    result = models.JSONField(null=True, blank=True)
    error = models.TextField(blank=True)
    created_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    created_at = models.DateTimeField(auto_now_add=True)
    started_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        # one live or finished job per company, kind and input: asking twice finds the first
        ordering = ["-created_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["company", "kind", "input_hash"],
                condition=Q(state__in=["queued", "running", "done"]),
                name="job_once_per_input",
            ),
            models.CheckConstraint(condition=Q(progress__lte=100), name="job_progress_is_a_percentage"),
            one_of("state", ["queued", "running", "done", "failed", "cancelled"], name="job_state_is_known"),
        ]
        indexes = [
            models.Index(fields=["state", "heartbeat"], name="job_by_heartbeat"),
            models.Index(fields=["state", "nudged_at"], name="job_by_nudge"),
        ]

    def __str__(self) -> str:
        """Return kind and state, for logs."""
        return f"{self.kind} {self.pk} {self.state}"

    @property
    def is_open(self) -> bool:
        """Return whether the work is still to come or going on: a page keeps asking."""
        return self.state in {self.State.QUEUED, self.State.RUNNING}

    @property
    def is_ready(self) -> bool:
        """Return whether the result can be fetched."""
        return self.state == self.State.DONE

    @property
    def can_be_retried(self) -> bool:
        """Return whether a person may ask for it again."""
        return self.state in {self.State.FAILED, self.State.CANCELLED}
