"""The plan of one crew's day, kept with the hash of what it was made from."""

from __future__ import annotations

from django.db import models

from crews.models.crew import Crew
from projects.models import Owned


class DayPlan(Owned):
    """A day as it was planned: `plan` holds visits, steps, waits and what was left over, as JSON.

    It is stale, and made again, when `input_hash` no longer fits what is assigned, forecast or specified.
    """

    crew = models.ForeignKey(Crew, on_delete=models.PROTECT, related_name="day_plans")
    date = models.DateField()
    input_hash = models.CharField(max_length=64)
    status = models.CharField(max_length=16)
    plan = models.JSONField()
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["date", "crew_id", "id"]
        constraints = [
            models.UniqueConstraint(fields=["crew", "date", "input_hash"], name="day_plan_once_per_input"),
        ]

    def __str__(self) -> str:
        """Return the day."""
        return self.date.isoformat()
