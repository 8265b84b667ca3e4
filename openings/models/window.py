"""What happened to an opening's window, record by record, for ever: the state is their fold."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from openings.models.opening import Opening
from openings.windows.standing import Kind
from projects.models import House, Owned, User
from projects.models.constraints import at_least, one_of, text_between

_SIZED = (Kind.COUNTED.value, Kind.ACCEPTED.value)


class WindowEntry(Owned):
    """What a person wrote down at a house in one go. Its `key` makes a form sent twice count once."""

    house = models.ForeignKey(House, on_delete=models.PROTECT, related_name="window_entries")
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    key = models.CharField(max_length=64)
    body_hash = models.CharField(max_length=64)

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "window entries"
        constraints = [
            models.UniqueConstraint(fields=["company", "key"], name="window_entry_once"),
            text_between("key", shortest=1, longest=64, name="window_entry_key_length"),
        ]

    def __str__(self) -> str:
        """Return at which house."""
        return f"windows of {self.house}"


class WindowRecord(Owned):
    """One thing that happened to one window: with its size where counted or accepted, and what was seen."""

    entry = models.ForeignKey(WindowEntry, on_delete=models.PROTECT, related_name="records")
    opening = models.ForeignKey(Opening, on_delete=models.PROTECT, related_name="window_records")
    number = models.PositiveIntegerField()
    kind = models.CharField(max_length=10)
    width_nm = models.BigIntegerField(null=True, blank=True)
    height_nm = models.BigIntegerField(null=True, blank=True)
    note = models.CharField(max_length=200, blank=True, default="")
    claim_by = models.DateField(null=True, blank=True)
    takes_back = models.OneToOneField(
        "self", on_delete=models.PROTECT, related_name="taken_back_by", null=True, blank=True
    )

    class Meta:
        ordering = ["opening_id", "number"]
        constraints = [
            models.UniqueConstraint(fields=["opening", "number"], name="window_record_in_a_row"),
            at_least("number", 1, name="window_record_number"),
            one_of("kind", [kind.value for kind in Kind], name="window_record_kind"),
            models.CheckConstraint(
                # a comparison with null is no refusal, so that null is refused by name
                condition=Q(kind__in=_SIZED, width_nm__isnull=False, height_nm__isnull=False)
                & Q(width_nm__gt=0, height_nm__gt=0)
                | (~Q(kind__in=_SIZED) & Q(width_nm__isnull=True, height_nm__isnull=True)),
                name="window_record_size",
            ),
            models.CheckConstraint(
                condition=Q(kind=Kind.DAMAGED.value, claim_by__isnull=False)
                | (~Q(kind=Kind.DAMAGED.value) & Q(claim_by__isnull=True)),
                name="window_record_claim",
            ),
            models.CheckConstraint(
                condition=Q(kind=Kind.TAKEN_BACK.value, takes_back__isnull=False)
                | (~Q(kind=Kind.TAKEN_BACK.value) & Q(takes_back__isnull=True)),
                name="window_record_taken_back",
            ),
            text_between("note", shortest=0, longest=200, name="window_record_note_length"),
        ]

    def __str__(self) -> str:
        """Return what happened."""
        return self.kind


class WindowPhoto(Owned):
    """A photo of damage as it is kept: drawn anew as JPEG, under a name drawn by lot."""

    record = models.ForeignKey(WindowRecord, on_delete=models.PROTECT, related_name="photos")
    file_name = models.CharField(max_length=64)
    content = models.BinaryField()
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["file_name"], name="window_photo_name_once"),
            text_between("file_name", shortest=1, longest=64, name="window_photo_name_length"),
        ]

    def __str__(self) -> str:
        """Return the name drawn by lot."""
        return self.file_name
