"""Refusals about openings and schedules; their words stand in `projects/messages.py`. Pure."""

from __future__ import annotations

from projects.errors import UserError


class BadRows(UserError):
    """Rows of the schedule were refused, and nobody said to keep the good ones."""

    code = "bad_rows"


class NothingToImport(UserError):
    """The schedule has not one good row."""

    code = "nothing_to_import"


class AlreadyDecided(UserError):
    """Somebody has taken the schedule over, or put it away, already."""

    code = "already_decided"
    status = 409
