"""What crews wrote down of their work, record by record, for ever: a step's state is the records' fold."""

from __future__ import annotations

from django.db import models

from crews.models.crew import Crew
from openings.models import Opening
from projects.models import Owned, User
from projects.models.constraints import text_between


class WorkEntry(Owned):
    """What a person wrote down about one opening in one go, on a crew's sheet of `day`.

    Its `key` makes a tap that is sent twice count once.
    """

    opening = models.ForeignKey(Opening, on_delete=models.PROTECT, related_name="work_entries")
    crew = models.ForeignKey(Crew, on_delete=models.PROTECT, related_name="work_entries")
    day = models.DateField()
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    key = models.CharField(max_length=64)
    body_hash = models.CharField(max_length=64)

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "work entries"
        constraints = [
            models.UniqueConstraint(fields=["company", "key"], name="work_entry_once"),
            text_between("key", shortest=1, longest=64, name="work_entry_key_length"),
        ]

    def __str__(self) -> str:
        """Return whose work at which opening."""
        return f"{self.crew.code}: {self.opening}"


class WorkRecord(Owned):
    """One step that is done; or, with `takes_back`, that it was not done after all."""

    entry = models.ForeignKey(WorkEntry, on_delete=models.PROTECT, related_name="records")
    step = models.CharField(max_length=64)
    takes_back = models.OneToOneField(
        "self", on_delete=models.PROTECT, related_name="taken_back_by", null=True, blank=True
    )

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["entry", "step"], name="work_record_once_an_entry"),
            text_between("step", shortest=1, longest=64, name="work_record_step_length"),
        ]

    def __str__(self) -> str:
        """Return the step, and whether it was taken back."""
        return f"{self.step}, taken back" if self.takes_back_id else self.step
