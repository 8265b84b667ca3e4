"""What the frame of every page needs: who asks, what they may, where they can go, light or dark."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.utils import timezone

from projects.navigation import links_for
from projects.rights import Action, may

APPEARANCES = ("light", "dark")
APPEARANCE_COOKIE = "appearance"


def frame(request: HttpRequest) -> dict[str, Any]:
    """Return the frame's values; `may.see_costs` and its like are in it for buttons, not for safety."""
    chosen = request.COOKIES.get(APPEARANCE_COOKIE, "")
    values: dict[str, Any] = {
        "appearance": chosen if chosen in APPEARANCES else "",
        "today": timezone.localdate(),
        "membership": None,
        "company": None,
        "may": {},
        "places": [],
    }
    membership = getattr(request, "membership", None)
    if membership is not None:
        values.update(
            membership=membership,
            company=membership.company,
            companies=[one.company for one in request.memberships],  # type: ignore[attr-defined]
            may={action.name.lower(): may(membership, action) for action in Action},
            places=links_for(membership, request.path),
        )
    return values
