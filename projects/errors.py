"""What the application says when it refuses: every error a person may see derives from UserError. Pure."""

from __future__ import annotations


class AppError(Exception):
    """Anything the application raises on purpose; what is not an AppError is our bug."""


class UserError(AppError):
    """A refusal that a person can act on.

    `code` names the words in `projects/messages.py`; `parameters` fill them in; `status` is what a web page
    answers with. Subclasses set `code`, and `status` where it differs. A parameter `field` names the form
    field at which the words are shown.
    """

    code = "refused"
    status = 422

    def __init__(self, **parameters: object) -> None:
        """Keep the parameters; the words are looked up where the error is shown."""
        super().__init__(self.code, parameters)
        self.parameters = parameters

    def __str__(self) -> str:
        """Return code and parameters, for logs; people see `messages.words`."""
        told = ", ".join(f"{name}={value!r}" for name, value in self.parameters.items())
        return f"{self.code}({told})"


class BadValue(UserError):
    """A value that cannot be what it claims: carries what is wrong and what to do, in words."""

    code = "bad_value"

    def __init__(self, *, problem: str, remedy: str, value: object = None, field: str = "") -> None:
        """Keep `problem` (what is wrong) and `remedy` (what to do), both whole sentences.

        `field` names the form field they belong to, where the raiser knows it.
        """
        super().__init__(problem=problem, remedy=remedy, value=value, field=field)
        self.problem = problem
        self.remedy = remedy
        self.value = value

    def __str__(self) -> str:
        """Return problem and remedy as one text."""
        return f"{self.problem} {self.remedy}"


class NotThere(UserError):
    """No such thing, or another company's: nobody can tell which."""

    code = "not_there"
    status = 404


class NotAllowed(UserError):
    """The person's role does not include this. `whose` is a sentence: who may."""

    code = "not_allowed"
    status = 403


class Taken(UserError):
    """A name or code that must be unique is in use. Parameters: `field`, `what`, `value`."""

    code = "taken"


class StaleVersion(UserError):
    """Somebody saved the same thing since the form was opened. Parameters: `what`, `who`, `when`."""

    code = "stale_version"
    status = 409


class Archived(UserError):
    """Something that is archived was to be changed. Parameter: `what`."""

    code = "archived"
    status = 409


class InUse(UserError):
    """Something else stands on it, so it cannot be taken away. Parameters: `what`, `remedy`."""

    code = "in_use"
    status = 409


class LastOwner(UserError):
    """A company keeps at least one owner who can sign in."""

    code = "last_owner"
    status = 409


class PhotoTooLarge(UserError):
    """A photo above the limit for one. Parameter: `name`."""

    code = "photo_too_large"
    status = 413


class ElsewhereToo(UserError):
    """A person who signs in for another company too: this one's owner gets no hold on that sign-in."""

    code = "elsewhere_too"
    status = 409
