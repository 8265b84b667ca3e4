"""Phones on which somebody stays signed in: remembered, opened again in the morning, seen, ended."""

from __future__ import annotations

import datetime as dt
import hashlib
import secrets
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone
from django.utils.crypto import constant_time_compare

from projects.actors import Actor
from projects.errors import NotAllowed
from projects.messages import NOT_AT_THE_DESK
from projects.models import Device, Membership, User
from projects.rights import Action, require
from projects.selectors import membership_in, memberships_of
from projects.services.writing import record
from projects.sessions import stays_signed_in

TOKEN_BYTES = 32
TOKEN_LETTERS = 43  # of 32 bytes in base64
SEEN_EVERY = dt.timedelta(hours=1)
# requests sent together carry the same token; the first of them already changes it
TOGETHER = dt.timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class Opened:
    """Whether a phone opens, and the token that it takes from now on, empty where it has it already."""

    opens: bool
    token: str = ""


def digest(token: str) -> str:
    """Return what is kept of a token: whoever reads the database gets no phone open with it."""
    return hashlib.sha256(token.encode()).hexdigest()


@transaction.atomic
def remember_device(*, by: Membership, name: str) -> tuple[Device, str]:
    """Return a phone of the person's own, and its token, which nobody can read again.

    Raises NotAllowed for whoever works at the desk of any company.
    """
    require(by, Action.SEE_SHEETS)
    if not stays_signed_in(memberships_of(by.user)):
        raise NotAllowed(whose=NOT_AT_THE_DESK)
    token, now = secrets.token_urlsafe(TOKEN_BYTES), timezone.now()
    device = Device.objects.create(
        user=by.user,
        name=name,
        token_hash=digest(token),
        session_hash=by.user.get_session_auth_hash(),
        **dict.fromkeys(("made_at", "seen_at", "handed_at", "received_at"), now),
    )
    record(by=by, action="stay signed in", subject=device)
    return device, token


@transaction.atomic
def open_again(*, by: Membership, device: Device, token: str) -> Opened:
    """Return whether the phone that shows `token` opens for its person; it gets another token with that.

    The token before stays good until the new one was seen, for an answer can be lost on its way, and a minute
    longer. Shown after that it is somebody else's copy: nobody can tell whose, so the phone is ended.
    """
    require(by, Action.SEE_SHEETS)
    held, now, shown = _hold(device), timezone.now(), digest(token)
    if by.user.pk != held.user_id or not may_open(held, now=now):
        return Opened(opens=False)
    if not constant_time_compare(shown, held.token_hash):
        if not constant_time_compare(shown, held.previous_hash):
            return Opened(opens=False)
        if held.received_at is not None and now - held.received_at > TOGETHER:
            _end(held, by=by, now=now, action="end phone whose token was copied")
            return Opened(opens=False)
        if held.received_at is not None or now - held.handed_at <= TOGETHER:
            return Opened(opens=True)
    new = secrets.token_urlsafe(TOKEN_BYTES)
    held.token_hash, held.previous_hash = digest(new), shown
    held.handed_at, held.received_at, held.seen_at = now, None, now
    held.save(update_fields=["token_hash", "previous_hash", "handed_at", "received_at", "seen_at"])
    record(by=by, action="open phone again", subject=held)
    return Opened(opens=True, token=new)


def see_device(*, device: Device, token: str) -> None:
    """Write down that the phone is there, at most once an hour, and that it has its newest token.

    Of this no audit row is made, as of a session's own clock: nothing was decided.
    """
    now, seen = timezone.now(), {}
    if now - device.seen_at > SEEN_EVERY:
        seen["seen_at"] = now
    if device.received_at is None and constant_time_compare(digest(token), device.token_hash):
        seen["received_at"] = now
    if seen:
        there = Device.objects.filter(pk=device.pk, token_hash=device.token_hash, ended_at=None)
        there.update(**seen)


@transaction.atomic
def end_device(*, by: Membership, device: Device) -> Device:
    """Return the phone, ended: its next request is asked for the password.

    One's own anybody may end, another's the owner. Raises NotThere for a person of other companies alone.
    """
    person = membership_in(by.company, device.user_id)
    require(by, Action.SEE_SHEETS if person.user_id == by.user_id else Action.EDIT_PEOPLE, person)
    return _end(_hold(device), by=by, now=timezone.now(), action="end phone")


def end_phones_of(user: User, *, by: Actor) -> None:
    """End every phone of the person. Called inside the transaction of what ends them."""
    rows = Device.objects.select_for_update().filter(user=user, ended_at=None).order_by("pk")
    for held in rows:
        _end(held, by=by, now=timezone.now(), action="end phone")


def may_open(device: Device, *, now: dt.datetime) -> bool:
    """Return whether the phone opens as far as it and its person go: alive, active, password and round."""
    return (
        device.over_at(now) is None
        and device.user.is_active
        and constant_time_compare(device.session_hash, device.user.get_session_auth_hash())
    )


def _hold(device: Device) -> Device:
    return Device.objects.select_for_update(of=("self",)).select_related("user").get(pk=device.pk)


def _end(held: Device, *, by: Actor, now: dt.datetime, action: str) -> Device:
    if held.ended_at is None:
        held.ended_at = now
        held.save(update_fields=["ended_at"])
        record(by=by, action=action, subject=held, before={"ended_at": None}, after={"ended_at": now})
    return held
