"""What every page may ask for."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest

from projects import jobs


def lateness(request: HttpRequest) -> dict[str, Callable[[], bool]]:
    """Return `pdfs_are_delayed`, asked only where a page shows it."""
    return {"pdfs_are_delayed": jobs.broker_is_down}
