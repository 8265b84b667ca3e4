"""The words of every refusal, in one place: what happened and what to do, in one or two short sentences."""

from __future__ import annotations

from projects.errors import BadValue, UserError

WORDS: dict[str, str] = {
    "refused": "This can't be done as asked. Check the values and send it again.",
    "not_there": "There is nothing at this address. It may have moved; start from the list.",
    "not_allowed": "{whose}",
    "taken": "{what} {value} is already used. Choose another.",
    "stale_version": "{who} changed {what} at {when}. Compare below, then save again to keep your entry.",
}


def words(error: UserError) -> str:
    """Return what a person reads for `error`."""
    if isinstance(error, BadValue):
        return str(error)
    return WORDS[error.code].format(**error.parameters)
