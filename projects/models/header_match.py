"""What a builder calls our columns, remembered from the last import."""

from __future__ import annotations

from django.db import models
from django.db.models.functions import Lower

from projects.models.constraints import text_between
from projects.models.owned import Owned


class HeaderMatch(Owned):
    """Their headers to our column names, per builder. A null value: their column is ignored on purpose."""

    builder = models.CharField(max_length=120)
    mapping = models.JSONField(default=dict)

    class Meta:
        constraints = [
            models.UniqueConstraint("company", Lower("builder"), name="header_match_once"),
            text_between("builder", shortest=1, longest=120, name="header_match_builder_length"),
        ]

    def __str__(self) -> str:
        """Return whose headers these are."""
        return self.builder
