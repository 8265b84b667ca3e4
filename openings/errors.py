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


class WindowNotSo(UserError):
    """A window stands so that this can't happen to it. Parameters: `mark`, `state`, `action`."""

    code = "window_not_so"
    status = 409


class WindowGone(UserError):
    """An opening is no longer in its house's schedule."""

    code = "window_gone"
    status = 409


class OtherWindows(UserError):
    """The same form was sent before with other windows."""

    code = "other_windows"


class NotLast(UserError):
    """Something was written down after what is to be taken back. Parameter: `mark`."""

    code = "not_last"
    status = 409
