"""Crews, their people, and the elevations they are sent to."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower

from projects.models import Elevation, Owned, User
from projects.models.constraints import at_least, text_between

# Field guide 7 (C): what every truck carries, whatever the openings.
PAR_LIST = (
    "knife and a pack of blades",
    "membrane roller",
    "round-cornered tooling knife",
    "rags and wipes",
    "spare nozzles",
    "gloves",
)


def standing_par_list() -> list[str]:
    """Return what a truck carries until a company says otherwise."""
    return list(PAR_LIST)


class Crew(Owned):
    """A crew. Times are minutes after midnight at the site; `breaks` are pairs of such minutes.

    `set_up_min` and `clean_up_min` are truck, set-up and clean-up at the day's two ends.
    """

    code = models.CharField(max_length=32)
    name = models.CharField(max_length=120)
    day_start_min = models.PositiveSmallIntegerField(default=420)
    day_end_min = models.PositiveSmallIntegerField(default=930)
    breaks = models.JSONField(default=list, blank=True)
    set_up_min = models.PositiveSmallIntegerField(default=75)
    clean_up_min = models.PositiveSmallIntegerField(default=30)
    has_lift = models.BooleanField(default=False)
    par_list = models.JSONField(default=standing_par_list, blank=True)
    foreman = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    archived = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["code", "id"]
        constraints = [
            models.UniqueConstraint("company", Lower("code"), name="crew_code_once"),
            text_between("code", shortest=1, longest=32, name="crew_code_length"),
            text_between("name", shortest=1, longest=120, name="crew_name_length"),
            models.CheckConstraint(
                condition=Q(
                    day_end_min__gt=F("day_start_min") + F("set_up_min") + F("clean_up_min"),
                    day_end_min__lte=1440,
                ),
                name="crew_day_has_time_to_work",
            ),
            at_least("version", 1, name="crew_version"),
        ]

    def __str__(self) -> str:
        """Return the name."""
        return self.name


class CrewMember(Owned):
    """One pair of hands. `wage_cents` is per hour, before the burden; null until the office has said it."""

    crew = models.ForeignKey(Crew, on_delete=models.CASCADE, related_name="members")
    name = models.CharField(max_length=120)
    user = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    grade = models.CharField(max_length=32, default="installer")
    wage_cents = models.PositiveIntegerField(null=True, blank=True)
    burden_percent = models.PositiveSmallIntegerField(default=40)
    archived = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint("crew", Lower("name"), name="crew_member_once"),
            text_between("name", shortest=1, longest=120, name="crew_member_name_length"),
            text_between("grade", shortest=1, longest=32, name="crew_member_grade_length"),
            models.CheckConstraint(condition=Q(burden_percent__lte=200), name="crew_member_burden"),
            at_least("version", 1, name="crew_member_version"),
        ]

    def __str__(self) -> str:
        """Return the name."""
        return self.name


class Assignment(Owned):
    """A crew goes to an elevation on a day. `position` says in which order: one place at a time."""

    crew = models.ForeignKey(Crew, on_delete=models.PROTECT, related_name="assignments")
    elevation = models.ForeignKey(Elevation, on_delete=models.PROTECT, related_name="assignments")
    date = models.DateField()
    position = models.PositiveSmallIntegerField(default=0)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["date", "crew_id", "position", "id"]
        constraints = [
            models.UniqueConstraint(fields=["elevation", "date"], name="elevation_has_one_crew_a_day"),
            models.UniqueConstraint(
                fields=["crew", "date", "position"], name="crew_is_at_one_elevation_at_a_time"
            ),
        ]
        indexes = [models.Index(fields=["company", "date"], name="assignment_by_date")]

    def __str__(self) -> str:
        """Return who goes where and when."""
        face = self.elevation
        return f"{self.crew.code} to {face.house.code} {face.name}, {self.date.isoformat()}"
