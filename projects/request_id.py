"""Which request or task the work at hand belongs to: one word for log, audit row and answer."""

from __future__ import annotations

import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_current: ContextVar[str] = ContextVar("request_id", default="")


def current() -> str:
    """Return the id of the request or task at hand, empty outside of one."""
    return _current.get()


@contextmanager
def belonging_to(request_id: str = "") -> Iterator[str]:
    """Let the work inside carry `request_id`, or a new one."""
    chosen = request_id or secrets.token_hex(8)
    token = _current.set(chosen)
    try:
        yield chosen
    finally:
        _current.reset(token)
