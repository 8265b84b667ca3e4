"""What stands before a view: who may open it, and who is asking."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django.http import HttpRequest
from django.http.response import HttpResponseBase

from projects.models import Membership
from projects.rights import Action, require

View = Callable[..., HttpResponseBase]


def allowed(action: Action) -> Callable[[View], View]:
    """Let the view run for those who may do `action`; others read who may."""

    def guard(view: View) -> View:
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            require(member(request), action)
            return view(request, *args, **kwargs)

        guarded.action = action  # type: ignore[attr-defined]  # the access matrix reads it
        return guarded

    return guard


def without_sign_in(view: View) -> View:
    """Mark a view that anybody may open."""
    view.is_public = True  # type: ignore[attr-defined]
    return view


def member(request: HttpRequest) -> Membership:
    """Return the membership that asks; the middleware lets nobody without one reach a view."""
    return cast(Membership, request.membership)  # type: ignore[attr-defined]


def wants_part(request: HttpRequest, target: str = "") -> bool:
    """Return whether a part of the page is asked for, to be put into `target` where one is named.

    Going back in the browser asks for the whole page.
    """
    if request.headers.get("HX-Request") != "true" or "HX-History-Restore-Request" in request.headers:
        return False
    return not target or request.headers.get("HX-Target") == target
