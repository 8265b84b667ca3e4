"""The company: everything else hangs below one."""

from __future__ import annotations

from django.db import models
from django.db.models.functions import Lower

from projects.models.constraints import at_least, one_of, text_between
from projects.models.owned import Owned


class Paper(models.TextChoices):
    """What documents are printed on."""

    LETTER = "letter", "US Letter, 8 1/2 x 11 in"
    A4 = "a4", "A4, 210 x 297 mm"


class Company(models.Model):
    """A contractor. `code` names it on the command line; `sheets_hour` is when tomorrow's sheets are made.

    `claim_days` is how long after its record a damaged window can be claimed (C: common practice, no source).
    `yard` is where goods go that are for several projects; empty means that nobody has said yet.
    `paper` is what is drawn from now on; an issued order keeps the one it was issued on.
    """

    code = models.CharField(max_length=32)
    name = models.CharField(max_length=120)
    currency = models.CharField(max_length=3, default="USD")
    time_zone = models.CharField(max_length=64, default="America/New_York")
    sheets_hour = models.PositiveSmallIntegerField(default=18)
    yard = models.CharField(max_length=200, blank=True, default="")
    claim_days = models.PositiveSmallIntegerField(default=3)
    paper = models.CharField(max_length=8, choices=Paper.choices, default=Paper.LETTER)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name_plural = "companies"
        constraints = [
            models.UniqueConstraint(Lower("code"), name="company_code_once"),
            text_between("code", shortest=1, longest=32, name="company_code_length"),
            text_between("name", shortest=1, longest=120, name="company_name_length"),
            text_between("currency", shortest=3, longest=3, name="company_currency_length"),
            models.CheckConstraint(condition=models.Q(sheets_hour__lte=23), name="company_sheets_hour"),
            text_between("yard", shortest=0, longest=200, name="company_yard_length"),
            models.CheckConstraint(condition=models.Q(claim_days__lte=60), name="company_claim_days"),
            one_of("paper", Paper.values, name="company_paper"),
            at_least("version", 1, name="company_version"),
        ]

    def __str__(self) -> str:
        """Return the name."""
        return self.name


class Counter(Owned):
    """The last number given out, per company, kind and year: numbers have no gaps and no doubles."""

    kind = models.CharField(max_length=32)
    year = models.PositiveSmallIntegerField()
    last = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["company", "kind", "year"], name="counter_once"),
            text_between("kind", shortest=1, longest=32, name="counter_kind_length"),
        ]

    def __str__(self) -> str:
        """Return what is counted and how far."""
        return f"{self.kind} {self.year}: {self.last}"
