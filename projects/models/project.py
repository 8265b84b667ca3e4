"""A builder's job: one house or many, one delivery place, one weather place."""

from __future__ import annotations

from django.db import models
from django.db.models.functions import Lower

from projects.models.constraints import at_least, text_between
from projects.models.owned import Owned


class Project(Owned):
    """A builder's job. Empty places mean that nobody has said yet."""

    code = models.CharField(max_length=32)
    name = models.CharField(max_length=120)
    builder = models.CharField(max_length=120)
    delivery_place = models.CharField(max_length=200, blank=True, default="")
    weather_place = models.CharField(max_length=120, blank=True, default="")
    archived = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["name", "id"]
        constraints = [
            models.UniqueConstraint("company", Lower("code"), name="project_code_once"),
            text_between("code", shortest=1, longest=32, name="project_code_length"),
            text_between("name", shortest=1, longest=120, name="project_name_length"),
            text_between("builder", shortest=1, longest=120, name="project_builder_length"),
            text_between("delivery_place", shortest=0, longest=200, name="project_delivery_place_length"),
            text_between("weather_place", shortest=0, longest=120, name="project_weather_place_length"),
            at_least("version", 1, name="project_version"),
        ]

    def __str__(self) -> str:
        """Return the name."""
        return self.name
