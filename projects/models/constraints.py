"""Constraints that several tables share, so that SQLite and PostgreSQL refuse the same rows."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import models
from django.db.models.functions import Length
from django.db.models.lookups import GreaterThanOrEqual, LessThanOrEqual


def text_between(column: str, *, shortest: int, longest: int, name: str) -> models.CheckConstraint:
    """Return a check on a text's length; SQLite ignores the length of a varchar."""
    return models.CheckConstraint(
        condition=models.Q(GreaterThanOrEqual(Length(column), shortest))
        & models.Q(LessThanOrEqual(Length(column), longest)),
        name=name,
    )


def one_of(column: str, values: Iterable[str], *, name: str) -> models.CheckConstraint:
    """Return a check that the column holds one of the listed words."""
    return models.CheckConstraint(condition=models.Q(**{f"{column}__in": list(values)}), name=name)


def at_least(column: str, least: int, *, name: str) -> models.CheckConstraint:
    """Return a check that the column is not below `least`."""
    return models.CheckConstraint(condition=models.Q(**{f"{column}__gte": least}), name=name)
