"""What a page says after something was done, and the way back."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core import signing
from django.http import HttpRequest

from projects.errors import NotThere

_SALT = "undo"


def sealed(told: object) -> str:
    """Return what an undo has to know, as a part of its address that nobody else can make."""
    return signing.dumps(told, salt=_SALT, compress=True)


def unsealed(token: str) -> Any:
    """Return what was sealed. Raises NotThere for a token that is not ours."""
    try:
        return signing.loads(token, salt=_SALT)
    except signing.BadSignature:
        raise NotThere from None


def say(request: HttpRequest, text: str, *, undo: str = "") -> None:
    """Show `text` on the next page; `undo` is the address whose form takes it back."""
    messages.success(request, text, extra_tags=undo)
