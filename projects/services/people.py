"""Who belongs to the company: invited by the owner, given a role, ended, and let in again."""

from __future__ import annotations

from django.contrib.auth.password_validation import validate_password
from django.contrib.auth.tokens import default_token_generator
from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction
from django.utils.encoding import force_bytes
from django.utils.http import urlsafe_base64_encode

from projects.actors import Actor
from projects.errors import BadValue, ElsewhereToo, LastOwner, Taken
from projects.messages import password_words
from projects.models import Membership, Role, User
from projects.rights import Action, require
from projects.selectors import memberships_of
from projects.services.devices import end_phones_of
from projects.services.writing import change, created, hold, record
from projects.sessions import is_on_site
from projects.texts import clean_text


@transaction.atomic
def invite_person(*, by: Actor, email: str, name: str, role: str) -> Membership:
    """Return the membership of a person who may now be handed a link to choose a password.

    Raises ElsewhereToo for an address that signs in for another company: an owner could else take it over.
    """
    require(by, Action.EDIT_PEOPLE)
    address = clean_email(email)
    named = clean_text(name, field="name", what="Name", longest=120)
    user, new = User.objects.get_or_create(email=address, defaults={"name": named})
    if new:
        user.set_unusable_password()
        user.save(update_fields=["password"])
    elif Membership.objects.of(by.company).filter(user=user).exists():
        raise Taken(field="email", what="Address", value=address)
    else:
        raise ElsewhereToo(what=address, field="email")
    membership = Membership.objects.create(company=by.company, user=user, role=Role(role).value)
    return created(membership, by=by, action="invite person", shown=("role",))


@transaction.atomic
def change_role(*, by: Actor, membership: Membership, version: int | None, role: str) -> Membership:
    """Return the membership with its new role. Raises LastOwner where no owner would be left."""
    require(by, Action.EDIT_PEOPLE, membership)
    held = hold(membership, version=version)
    if role != Role.OWNER:
        _keep_an_owner(held)
    _end_phones_at_the_desk(held.user, role=role, by=by)
    return change(held, by=by, action="change role", values={"role": Role(role).value})


@transaction.atomic
def end_membership(*, by: Actor, membership: Membership) -> Membership:
    """Return the membership, ended: the person's next request already finds no company."""
    require(by, Action.EDIT_PEOPLE, membership)
    held = hold(membership)
    _keep_an_owner(held)
    _end_sessions_of(held.user, by=by)
    return change(held, by=by, action="end membership", values={"active": False})


@transaction.atomic
def restore_membership(*, by: Actor, membership: Membership) -> Membership:
    """Return the membership, active again in the role it had."""
    require(by, Action.EDIT_PEOPLE, membership)
    held = hold(membership)
    _end_phones_at_the_desk(held.user, role=held.role, by=by)
    return change(held, by=by, action="restore membership", values={"active": True})


@transaction.atomic
def end_sessions(*, by: Actor, membership: Membership) -> None:
    """End every session of the person, on every phone and computer: for a lost phone."""
    require(by, Action.EDIT_PEOPLE, membership)
    _end_sessions_of(membership.user, by=by)
    record(by=by, action="end sessions", subject=membership)


@transaction.atomic
def hand_out_link(*, by: Actor, membership: Membership) -> tuple[str, str]:
    """Return the two parts of a link by which the person chooses a password, once, within three days.

    Raises ElsewhereToo for a person of another company as well: the link would open that one too.
    """
    require(by, Action.EDIT_PEOPLE, membership)
    user = membership.user
    if user.memberships.exclude(company=by.company).exists():
        raise ElsewhereToo(what=user.name)
    record(by=by, action="hand out password link", subject=membership)
    return urlsafe_base64_encode(force_bytes(user.pk)), default_token_generator.make_token(user)


@transaction.atomic
def choose_password(*, user: User, password: str) -> None:
    """Set the person's password; every session and phone of theirs ends.

    Raises BadValue where it is too easy.
    """
    try:
        validate_password(password, user)
    except ValidationError as error:
        raise BadValue(
            problem="This password is too easy to guess.", remedy=password_words(error), field="password"
        ) from error
    user.set_password(password)
    user.save(update_fields=["password"])
    for membership in memberships_of(user)[:1]:
        end_phones_of(user, by=membership)


def clean_email(email: str) -> str:
    """Return the address in small letters. Raises BadValue where it is none."""
    address = clean_text(email, field="email", what="E-mail address", longest=254).lower()
    try:
        validate_email(address)
    except ValidationError as error:
        raise BadValue(
            problem=f"{address!r} is not an e-mail address.",
            remedy="Write it as name@example.com.",
            value=email,
            field="email",
        ) from error
    return address


def _keep_an_owner(membership: Membership) -> None:
    if membership.role != Role.OWNER or not membership.active:
        return
    # every owner's row is locked, so that two owners cannot demote each other at once
    owners = (
        Membership.objects.of(membership.company).select_for_update().filter(role=Role.OWNER, active=True)
    )
    if not [owner for owner in owners.order_by("pk") if owner.pk != membership.pk]:
        raise LastOwner


def _end_phones_at_the_desk(user: User, *, role: str, by: Actor) -> None:
    if not is_on_site(role):
        end_phones_of(user, by=by)


def _end_sessions_of(user: User, *, by: Actor) -> None:
    held = User.objects.select_for_update().get(pk=user.pk)
    held.session_round += 1
    held.save(update_fields=["session_round"])
    end_phones_of(held, by=by)
