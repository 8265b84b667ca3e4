"""Who writes: a member of a company, or the command line with the owner's rights."""

from __future__ import annotations

from dataclasses import dataclass

from projects.models import Company, Membership, Role, User

COMMAND_LINE = "command line"


@dataclass(frozen=True, slots=True)
class CommandLine:
    """A command that nobody signed in for; it may do for `company` what an owner may."""

    company: Company
    role: str = Role.OWNER
    active: bool = True

    @property
    def user(self) -> User | None:
        """Return nobody."""
        return None

    @property
    def name(self) -> str:
        """Return how the audit trail calls it."""
        return COMMAND_LINE


Actor = Membership | CommandLine
