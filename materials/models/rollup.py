"""What a house comes to in all, kept with the hash of what it was computed from."""

from __future__ import annotations

from django.db import models

from projects.models import House, Owned


class KeptRollUp(Owned):
    """A house's net demand and packs. Stale, and made again, once `input_hash` no longer fits."""

    house = models.OneToOneField(House, on_delete=models.CASCADE, related_name="kept_roll_up")
    input_hash = models.CharField(max_length=64)
    totals = models.JSONField()
    made_at = models.DateTimeField(auto_now=True)

    def __str__(self) -> str:
        """Return of which house, and as of when."""
        return f"house {self.house_id} as of {self.made_at:%Y-%m-%d %H:%M}"
