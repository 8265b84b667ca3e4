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


class StepTooSoon(UserError):
    """A step was marked whose turn has not come. Parameters: `mark`, `step`, `first` (the step before it)."""

    code = "step_too_soon"
    status = 409


class ReverseLap(UserError):
    """A step was marked that lies over one that is not done. Parameters: `mark`, `step`, `first`."""

    code = "reverse_lap"
    status = 409


class StepRestedOn(UserError):
    """A step was taken back on which others rest. Parameters: `mark`, `later` (the steps that rest on it)."""

    code = "step_rested_on"
    status = 409


class StepGone(UserError):
    """The opening's method has no such step any more. Parameter: `mark`."""

    code = "step_gone"
    status = 409


class OtherSteps(UserError):
    """The same tap was sent before with other steps."""

    code = "other_steps"
