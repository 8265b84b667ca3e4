"""Houses and their faces."""

from __future__ import annotations

from django.db import models
from django.db.models.functions import Lower

from projects.models.constraints import at_least, one_of, text_between
from projects.models.owned import Owned
from projects.models.project import Project

UNPLACED = "Unplaced"


class House(Owned):
    """A house of a project. `code` names it in commands; `plan_name` is the builder's plan it repeats."""

    project = models.ForeignKey(Project, on_delete=models.PROTECT, related_name="houses")
    code = models.CharField(max_length=32)
    name = models.CharField(max_length=120)
    plan_name = models.CharField(max_length=120, blank=True, default="")
    pre_1978 = models.BooleanField(default=False)
    archived = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["code", "id"]
        constraints = [
            models.UniqueConstraint("company", Lower("code"), name="house_code_once"),
            text_between("code", shortest=1, longest=32, name="house_code_length"),
            text_between("name", shortest=1, longest=120, name="house_name_length"),
            text_between("plan_name", shortest=0, longest=120, name="house_plan_name_length"),
            at_least("version", 1, name="house_version"),
        ]

    def __str__(self) -> str:
        """Return code and name."""
        return f"{self.code} {self.name}"


class Access(models.TextChoices):
    """From where the openings of a face are reached."""

    GROUND = "ground", "Ground"
    LADDER = "ladder", "Ladder"
    LIFT = "lift", "Lift"


class Elevation(Owned):
    """One face of a house, in the order in which a crew walks them. The ticks say whether work may start."""

    house = models.ForeignKey(House, on_delete=models.PROTECT, related_name="elevations")
    name = models.CharField(max_length=64)
    walking_order = models.PositiveSmallIntegerField(default=0)
    access = models.CharField(max_length=8, choices=Access.choices, default=Access.GROUND)
    framing_ready = models.BooleanField(default=False)
    sheathing_ready = models.BooleanField(default=False)
    roof_dried_in = models.BooleanField(default=False)
    wrb_ready = models.BooleanField(default=False)
    access_ready = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["walking_order", "id"]
        constraints = [
            models.UniqueConstraint("house", Lower("name"), name="elevation_name_once"),
            text_between("name", shortest=1, longest=64, name="elevation_name_length"),
            one_of("access", Access.values, name="elevation_access"),
            at_least("version", 1, name="elevation_version"),
        ]

    def __str__(self) -> str:
        """Return the name."""
        return self.name

    @property
    def is_placed(self) -> bool:
        """Return whether the face is known; nothing unplaced can be assigned to a crew."""
        return self.name != UNPLACED
