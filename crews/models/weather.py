"""The weather that somebody typed in, by quarters of the day."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from projects.models import Owned
from projects.models.constraints import one_of, text_between


class Forecast(Owned):
    """One quarter of one day at one place. Temperatures in tenths of a degree Celsius, wind in mph."""

    class Quarter(models.TextChoices):
        """Six hours each, from midnight."""

        NIGHT = "night", "Night"
        MORNING = "morning", "Morning"
        AFTERNOON = "afternoon", "Afternoon"
        EVENING = "evening", "Evening"

    place = models.CharField(max_length=120)
    date = models.DateField()
    quarter = models.CharField(max_length=9, choices=Quarter.choices)
    temp_tenth_c = models.SmallIntegerField()
    rh_percent = models.PositiveSmallIntegerField()
    rain = models.BooleanField(default=False)
    wind_mph = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["place", "date", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["company", "place", "date", "quarter"], name="forecast_once_a_quarter"
            ),
            one_of("quarter", ["night", "morning", "afternoon", "evening"], name="forecast_quarter"),
            text_between("place", shortest=1, longest=120, name="forecast_place_length"),
            models.CheckConstraint(condition=Q(rh_percent__gte=1, rh_percent__lte=100), name="forecast_rh"),
            models.CheckConstraint(
                condition=Q(temp_tenth_c__gte=-600, temp_tenth_c__lte=600), name="forecast_temp"
            ),
        ]

    def __str__(self) -> str:
        """Return day and quarter."""
        return f"{self.date.isoformat()} {self.quarter}"
