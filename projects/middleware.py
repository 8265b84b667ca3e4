"""Between signing in and a view: the session's clocks, the company it works for, the company's time."""

from __future__ import annotations

import time
from collections.abc import Callable
from http import HTTPStatus
from typing import Any, cast
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from django.contrib.auth import logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import patch_vary_headers

from projects import kept, own_phone, sessions
from projects.models import Membership, User
from projects.selectors import memberships_of


class MembershipMiddleware:
    """Lets nobody reach a view unseen: it needs a sign-in, unless the view says that anybody may open it.

    Sets `request.membership` and `request.memberships`.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        """Keep what comes next."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Find out who asks, for which company, and answer in that company's time."""
        self._recognise(request)
        membership = request.membership  # type: ignore[attr-defined]
        response = self.get_response(request) if membership is None else self._of_member(request, membership)
        own_phone.settle(request, response)
        return response

    def process_view(
        self, request: HttpRequest, view: Callable[..., Any], args: Any, kwargs: Any
    ) -> HttpResponse | None:
        """Send whoever is not signed in to do so, and keep what they typed."""
        if getattr(view, "is_public", False) or request.membership is not None:  # type: ignore[attr-defined]
            return None
        if request.user.is_authenticated:
            return render(request, "projects/no_company.html", status=HTTPStatus.FORBIDDEN)
        return _to_sign_in(request)

    def _of_member(self, request: HttpRequest, membership: Membership) -> HttpResponse:
        with timezone.override(ZoneInfo(membership.company.time_zone)):
            response = self.get_response(request)
        # a page and its parts share an address, and a shared computer's Back button shows nothing kept
        patch_vary_headers(response, ["HX-Request", "HX-Target"])
        response.setdefault("Cache-Control", "private, no-store")
        if request.method == "POST" and response.status_code < HTTPStatus.BAD_REQUEST:
            self._forget_kept(request)
        return response

    def _recognise(self, request: HttpRequest) -> None:
        request.membership = None  # type: ignore[attr-defined]
        request.memberships = []  # type: ignore[attr-defined]
        if not request.user.is_authenticated and not own_phone.open_session(request):
            return
        memberships = memberships_of(cast(User, request.user))
        membership = sessions.chosen(request.session, memberships)
        if membership is None:
            return
        now = time.time()
        if sessions.SIGNED_IN_AT not in request.session:
            sessions.begin(request.session, membership=membership, now=now)
        is_over = sessions.has_ended(request.session, role=membership.role, now=now)
        if (is_over or own_phone.is_signed_out(request)) and not own_phone.open_session(request):
            logout(request)
            return
        sessions.see(request.session, now=now)
        request.membership = membership  # type: ignore[attr-defined]
        request.memberships = memberships  # type: ignore[attr-defined]

    def _forget_kept(self, request: HttpRequest) -> None:
        if kept.KEPT in request.session and kept.MARK in request.POST:
            kept.drop(request)


def _to_sign_in(request: HttpRequest) -> HttpResponse:
    back = request.get_full_path() if request.method in {"GET", "HEAD"} else ""
    if kept.keep(request):
        back = reverse("kept-entry")
    address = reverse("sign-in") + (f"?{urlencode({'next': back})}" if back else "")
    if request.headers.get("HX-Request") == "true":
        answer = HttpResponse(status=HTTPStatus.UNAUTHORIZED)
        answer["HX-Redirect"] = address
        return answer
    return redirect(address)
