"""How long a person stays signed in, by role, and which company the session works for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.contrib.sessions.backends.base import SessionBase

from projects.models import Membership, Role

MINUTE = 60
HOUR = 60 * MINUTE
DAY = 24 * HOUR
SEEN_EVERY = 5 * MINUTE  # a page written down no more often than this as the last one seen

SIGNED_IN_AT = "signed_in_at"
SEEN_AT = "seen_at"
COMPANY = "company"
DEVICE = "device"


@dataclass(frozen=True, slots=True)
class Limits:
    """Seconds without a request, and seconds in all, after which a person signs in again."""

    idle: int
    absolute: int


AT_THE_DESK = Limits(idle=2 * HOUR, absolute=12 * HOUR)
ON_SITE = Limits(idle=12 * HOUR, absolute=30 * DAY)
LIMITS: dict[str, Limits] = {
    Role.OWNER: AT_THE_DESK,
    Role.MANAGER: AT_THE_DESK,
    Role.FOREMAN: ON_SITE,
    Role.CREW: ON_SITE,
}


def begin(
    session: SessionBase, *, membership: Membership | None, now: float, signed_in: float | None = None
) -> None:
    """Start the clocks of a session. A phone of one's own opens it later than it was `signed_in`."""
    session[SEEN_AT] = int(now)
    session[SIGNED_IN_AT] = int(now if signed_in is None else signed_in)
    if membership is not None:
        work_for(session, membership)


def work_for(session: SessionBase, membership: Membership) -> None:
    """Let the session work for the membership's company, no longer than its role allows."""
    session[COMPANY] = membership.company_id
    session.set_expiry(LIMITS[membership.role].absolute)


def has_ended(session: SessionBase, *, role: str, now: float) -> bool:
    """Return whether either clock has run out."""
    limits = LIMITS[role]
    return int(now) - session[SEEN_AT] > limits.idle or int(now) - session[SIGNED_IN_AT] > limits.absolute


def stays_signed_in(memberships: Sequence[Membership]) -> bool:
    """Return whether a phone of the person's own may stay signed in: who works on site, for every company."""
    return bool(memberships) and all(is_on_site(membership.role) for membership in memberships)


def is_on_site(role: str) -> bool:
    """Return whether the role has the longer clocks."""
    return LIMITS[role] is ON_SITE


def see(session: SessionBase, *, now: float) -> None:
    """Remember that the person is there."""
    if now - session[SEEN_AT] > SEEN_EVERY:
        session[SEEN_AT] = int(now)


def chosen(session: SessionBase, memberships: list[Membership]) -> Membership | None:
    """Return the membership the session works for: the one chosen, else the first."""
    for membership in memberships:
        if membership.company_id == session.get(COMPANY):
            return membership
    return memberships[0] if memberships else None
