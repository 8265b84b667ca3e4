"""What a page says after something was done, and the way back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest


def say(request: HttpRequest, text: str, *, undo: str = "") -> None:
    """Show `text` on the next page; `undo` is the address whose form takes it back."""
    messages.success(request, text, extra_tags=undo)
