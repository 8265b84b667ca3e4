"""The states of an order, and which may follow which. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

DRAFT = "draft"
ISSUED = "issued"
FOLLOWS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        ISSUED: (DRAFT,),
        "acknowledged": (ISSUED,),
        "part delivered": (ISSUED, "acknowledged"),
        "closed": (ISSUED, "acknowledged", "part delivered"),
        "cancelled": (ISSUED, "acknowledged", "part delivered"),
    }
)
"""Each state that an event brings, with those it may follow: a supplier may deliver without a word before."""


def may_follow(state: str, event: str) -> bool:
    """Return whether `event` may happen to an order in `state`."""
    return state in FOLLOWS.get(event, ())


def first_wrong(events: Iterable[str]) -> str | None:
    """Return the first event that may not follow what was before it; None where all may."""
    state = DRAFT
    for event in events:
        if not may_follow(state, event):
            return event
        state = event
    return None
