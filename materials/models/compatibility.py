"""Which kinds a company and its projects use, who answers for a pair, makers' sheets, covered elevations."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from materials.compatibility.exposure import LONGEST_LIMIT
from materials.compatibility.table import NO_ENTRY, Answer
from projects.models import Elevation, Owned, Project, User
from projects.models.constraints import at_least, one_of, text_between

LONGEST_AGE = 120
USUAL_AGE = 24  # months, E: an office looks whether a newer sheet is out


class UsedKinds(Owned):
    """Which kinds a project uses, without a project what the company usually uses.

    `kinds` holds by key since which version a kind is in use without a break: who answered for a pair before
    one of its kinds was changed is asked anew. A project without kinds follows the company.
    """

    project = models.OneToOneField(
        Project, on_delete=models.PROTECT, related_name="used_kinds", null=True, blank=True
    )
    kinds = models.JSONField(default=dict, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "used kinds"
        constraints = [
            models.UniqueConstraint(
                fields=["company"], condition=Q(project__isnull=True), name="company_kinds_once"
            ),
            at_least("version", 1, name="used_kinds_version"),
        ]

    def __str__(self) -> str:
        """Return whose they are."""
        return f"kinds of {self.project.code}" if self.project else "kinds of the company"


class PairTaken(Owned):
    """Somebody answers by name for two kinds on a project: append-only.

    `answer` is what the table said to him, `version` that of the kinds in `used` at the time.
    """

    project = models.ForeignKey(Project, on_delete=models.PROTECT, related_name="pairs_taken")
    used = models.ForeignKey(UsedKinds, on_delete=models.PROTECT, related_name="+")
    version = models.PositiveIntegerField()
    one = models.CharField(max_length=32)
    other = models.CharField(max_length=32)
    answer = models.CharField(max_length=16)
    person = models.CharField(max_length=120)
    reason = models.CharField(max_length=300)
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "pairs taken on"
        constraints = [
            one_of("answer", [Answer.ASK.value, Answer.NO.value, NO_ENTRY], name="pair_taken_answer"),
            text_between("person", shortest=1, longest=120, name="pair_taken_person_length"),
            text_between("reason", shortest=1, longest=300, name="pair_taken_reason_length"),
            at_least("version", 1, name="pair_taken_version"),
        ]

    def __str__(self) -> str:
        """Return both kinds and the name."""
        return f"{self.one} with {self.other}: {self.person}"


class InstructionSheet(Owned):
    """A maker's instruction sheet for a material of the catalogue. The newest by its own date is in force.

    `file_path` is where the PDF lies below the media folder, under a name drawn by lot. `exposure_days` is
    how long the membrane may lie open, None where the sheet does not say or the material is no membrane.
    """

    material = models.CharField(max_length=64)
    title = models.CharField(max_length=160)
    dated = models.DateField()
    exposure_days = models.PositiveSmallIntegerField(null=True, blank=True)
    file_path = models.CharField(max_length=200)
    content_hash = models.CharField(max_length=64)
    size_bytes = models.PositiveIntegerField()
    added_at = models.DateTimeField()
    added_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["material", "-dated", "-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["company", "material", "dated", "content_hash"],
                condition=Q(withdrawn_at__isnull=True),
                name="instruction_sheet_once",
            ),
            text_between("title", shortest=1, longest=160, name="instruction_sheet_title_length"),
            text_between("file_path", shortest=1, longest=200, name="instruction_sheet_path_length"),
            models.CheckConstraint(
                condition=Q(exposure_days__isnull=True)
                | Q(exposure_days__gte=1, exposure_days__lte=LONGEST_LIMIT),
                name="instruction_sheet_exposure",
            ),
        ]

    def __str__(self) -> str:
        """Return title and date."""
        return f"{self.title}, {self.dated.isoformat()}"


class SheetAge(Owned):
    """After how many months a company wants to be told that a sheet is old; without a row USUAL_AGE holds."""

    months = models.PositiveSmallIntegerField(default=USUAL_AGE)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["company"], name="sheet_age_once"),
            models.CheckConstraint(
                condition=Q(months__gte=1, months__lte=LONGEST_AGE), name="sheet_age_months"
            ),
            at_least("version", 1, name="sheet_age_version"),
        ]

    def __str__(self) -> str:
        """Return the months."""
        return f"{self.months} months"


class CoveredFace(Owned):
    """On which day an elevation's membrane was last covered; work after that day lies open again."""

    elevation = models.OneToOneField(Elevation, on_delete=models.PROTECT, related_name="covered")
    on = models.DateField()
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        """Return elevation and day."""
        return f"{self.elevation} covered {self.on.isoformat()}"
