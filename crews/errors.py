"""Refusals about crews and their days; their words stand in `projects/messages.py`. Pure."""

from __future__ import annotations

from projects.errors import UserError


class Clash(UserError):
    """Another crew is on that elevation that day. Parameters: `crew`, `what`, `day`, `there` (the row)."""

    code = "crew_clash"
    status = 409


class AlreadySent(UserError):
    """The crew is on that elevation that day already. Parameters: `crew`, `what`, `day`."""

    code = "already_sent"
    status = 409


class Unplaced(UserError):
    """Openings whose face nobody knows were to be assigned."""

    code = "unplaced"


class NobodyInCrew(UserError):
    """A day was to be planned for a crew without people. Parameter: `crew`."""

    code = "nobody_in_crew"


class NothingAssigned(UserError):
    """A sheet was asked for a day on which the crew goes nowhere. Parameters: `crew`, `day`."""

    code = "nothing_assigned"


class DayChanged(UserError):
    """What the sheet is made from changed while it was made."""

    code = "day_changed"
    status = 409
