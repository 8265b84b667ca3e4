"""A phone that stays signed in: its cookie, and the session that it opens in place of one that ended."""

from __future__ import annotations

import time
from dataclasses import dataclass

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from projects import services, sessions
from projects.models import Device, Membership
from projects.selectors import device_at_hand, device_of_token, memberships_of
from projects.services.devices import TOKEN_LETTERS, digest, may_open

BACKEND = "django.contrib.auth.backends.ModelBackend"
_KINDS = (
    (("iPhone",), "iPhone"),
    (("iPad",), "iPad"),
    (("Android", "Mobile"), "Android phone"),
    (("Android",), "Android tablet"),
    (("Windows",), "Windows computer"),
    (("Macintosh",), "Mac"),
)
_COOKIE = "own_phone_cookie"


@dataclass(frozen=True, slots=True)
class _Cookie:
    """What the browser shall keep once the request is answered; nothing where there is no device."""

    token: str = ""
    device: Device | None = None


def name_of(user_agent: str) -> str:
    """Return in plain words what a browser says that it runs on: `Android phone`, `computer`."""
    kinds = (name for words, name in _KINDS if all(word in user_agent for word in words))
    return next(kinds, "Computer")


def keep(request: HttpRequest, response: HttpResponse, *, by: Membership) -> None:
    """Keep the person who has just typed the password signed in on this phone. Raises NotAllowed."""
    name = name_of(request.headers.get("User-Agent", ""))
    device, token = services.remember_device(by=by, name=name)
    request.session[sessions.DEVICE] = device.pk
    _hand_over(response, token, device)


def open_session(request: HttpRequest) -> bool:
    """Return whether the phone's cookie opened a session with a new id, in place of one that has ended.

    The forms' token stays as it is, for pages of yesterday are sent with it. Nothing tells the guard against
    guessing, and "last signed in" stays the last time that a password was typed.
    """
    token = request.COOKIES.get(settings.DEVICE_COOKIE_NAME, "")
    if len(token) != TOKEN_LETTERS:
        return False
    device = device_of_token(digest(token))
    if device is None or not may_open(device, now=timezone.now()):
        return False
    if request.user.is_authenticated and request.user.pk != device.user_id:
        # somebody planted the cookie: what this person goes on typing must not be the other's
        _at_the_end(request, _Cookie())
        return False
    memberships = memberships_of(device.user)
    chosen = sessions.chosen(request.session, memberships)
    if chosen is None or not sessions.stays_signed_in(memberships):
        return False
    opened = services.open_again(by=chosen, device=device, token=token)
    if opened.opens:
        _begin(request, device, chosen)
        if opened.token:
            _at_the_end(request, _Cookie(opened.token, device))
    return opened.opens


def is_signed_out(request: HttpRequest) -> bool:
    """Return whether the session is of a phone that was ended; of one that was not, note that it is here."""
    pk = request.session.get(sessions.DEVICE)
    if pk is None:
        return False
    device = device_at_hand(pk)
    if device is None or device.ended_at is not None:
        return True
    services.see_device(device=device, token=request.COOKIES.get(settings.DEVICE_COOKIE_NAME, ""))
    return False


def end(request: HttpRequest, *, by: Membership) -> None:
    """End the phone that the session is of, where it is of one."""
    device = device_at_hand(request.session.get(sessions.DEVICE))
    if device is not None:
        services.end_device(by=by, device=device)


def settle(request: HttpRequest, response: HttpResponse) -> None:
    """Give the phone the token that opening changed, unless the answer itself says what becomes of it."""
    cookie: _Cookie | None = getattr(request, _COOKIE, None)
    if cookie is None or settings.DEVICE_COOKIE_NAME in response.cookies:
        return
    if cookie.device is None:
        take_away(response)
    else:
        _hand_over(response, cookie.token, cookie.device)


def take_away(response: HttpResponse) -> None:
    """Have the browser drop the cookie."""
    response.delete_cookie(settings.DEVICE_COOKIE_NAME, samesite="Lax")


def _at_the_end(request: HttpRequest, cookie: _Cookie) -> None:
    setattr(request, _COOKIE, cookie)


def _begin(request: HttpRequest, device: Device, membership: Membership) -> None:
    session, user = request.session, device.user
    session.cycle_key()  # what the ended session kept comes along; its id is dead
    session[SESSION_KEY] = user._meta.pk.value_to_string(user)
    session[BACKEND_SESSION_KEY] = BACKEND
    session[HASH_SESSION_KEY] = user.get_session_auth_hash()
    session[sessions.DEVICE] = device.pk
    sessions.begin(session, membership=membership, now=time.time(), signed_in=device.made_at.timestamp())
    request.user = user


def _hand_over(response: HttpResponse, token: str, device: Device) -> None:
    response.set_cookie(
        settings.DEVICE_COOKIE_NAME,
        token,
        max_age=device.lasts_until - timezone.now(),
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )
