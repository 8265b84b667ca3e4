"""The phones on which people stay signed in."""

from __future__ import annotations

import datetime as dt

from django.db import models

from projects.models.constraints import text_between
from projects.models.people import User

KEPT_FOR = dt.timedelta(days=30)
HASH_LETTERS = 64


class Device(models.Model):
    """A phone of which its person said at a sign-in that it is theirs alone.

    It hangs below the person, not below a company: it opens what a sign-in opens, which is every company of
    theirs. The phone holds the token, this row its SHA-256 and that of the one before. `session_hash` is what
    the person's sessions stood on then: a new password or a new round of sessions makes it another.
    """

    user = models.ForeignKey(User, on_delete=models.PROTECT, related_name="devices")
    name = models.CharField(max_length=40)
    token_hash = models.CharField(max_length=HASH_LETTERS, unique=True)
    previous_hash = models.CharField(max_length=HASH_LETTERS, blank=True, default="")
    handed_at = models.DateTimeField()
    received_at = models.DateTimeField(null=True, blank=True)
    session_hash = models.CharField(max_length=HASH_LETTERS)
    made_at = models.DateTimeField()
    seen_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        indexes = [models.Index(fields=["previous_hash"], name="device_previous")]
        constraints = [
            text_between("name", shortest=1, longest=40, name="device_name_length"),
            text_between("token_hash", shortest=HASH_LETTERS, longest=HASH_LETTERS, name="device_token_hash"),
        ]

    def __str__(self) -> str:
        """Return what kind of device it is."""
        return self.name

    @property
    def lasts_until(self) -> dt.datetime:
        """Return the moment after which the password is asked for again, whatever was done meanwhile."""
        return self.made_at + KEPT_FOR

    def over_at(self, now: dt.datetime) -> dt.datetime | None:
        """Return when it ceased to open anything, None while it does."""
        if self.ended_at is not None:
            return self.ended_at
        return self.lasts_until if now > self.lasts_until else None
