"""The first page of the day, by role, and how all pages look to this person."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST, require_safe

from projects import selectors
from projects.access import allowed, member, without_sign_in
from projects.context import APPEARANCE_COOKIE, APPEARANCES
from projects.rights import Action
from projects.sessions import DAY, work_for

YEAR = 365 * DAY


@require_safe
@allowed(Action.SEE_SHEETS)
def home(request: HttpRequest) -> HttpResponse:
    """Show what comes first for the person's role."""
    by = member(request)
    context = {"has_houses": selectors.live_houses(by.company).exists()}
    return render(request, f"projects/home_{by.role}.html", context)


@without_sign_in
@require_POST
def appearance(request: HttpRequest) -> HttpResponse:
    """Keep the choice of light, dark, or as the device says, in a cookie."""
    response = redirect(_back(request))
    chosen = request.POST.get("appearance", "")
    if chosen in APPEARANCES:
        response.set_cookie(
            APPEARANCE_COOKIE,
            chosen,
            max_age=YEAR,
            secure=request.is_secure(),
            httponly=True,
            samesite="Lax",
        )
    else:
        response.delete_cookie(APPEARANCE_COOKIE, samesite="Lax")
    return response


@require_POST
@allowed(Action.SEE_SHEETS)
def switch_company(request: HttpRequest) -> HttpResponse:
    """Work for another of the person's companies from here on."""
    for membership in request.memberships:  # type: ignore[attr-defined]
        if str(membership.company_id) == request.POST.get("company", ""):
            work_for(request.session, membership)
    return redirect("home")


def _back(request: HttpRequest) -> str:
    address = request.POST.get("back", "")
    if url_has_allowed_host_and_scheme(address, allowed_hosts=None, require_https=request.is_secure()):
        return address
    return reverse("home")
