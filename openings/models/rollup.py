"""What a house needs in all, kept with the hash of what it was computed from."""

from __future__ import annotations

from django.db import models

from projects.models import House, Owned


class HouseRollUp(Owned):
    """The takeoff of a house, summed. It is stale, and made again, when `input_hash` no longer fits."""

    house = models.OneToOneField(House, on_delete=models.CASCADE, related_name="roll_up")
    input_hash = models.CharField(max_length=64)
    rules_version = models.CharField(max_length=16)
    openings = models.PositiveIntegerField()
    totals = models.JSONField()
    made_at = models.DateTimeField(auto_now=True)

    def __str__(self) -> str:
        """Return the house's code and its number of openings."""
        return f"{self.house_id}: {self.openings} openings"
