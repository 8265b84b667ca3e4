"""The states of an order, and which may follow which. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

DRAFT = "draft"
ISSUED = "issued"
ACKNOWLEDGED = "acknowledged"
PART_DELIVERED = "part delivered"
CLOSED = "closed"
CANCELLED = "cancelled"
CHANGED = "changed"
FOLLOWS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        ISSUED: (DRAFT,),
        ACKNOWLEDGED: (ISSUED,),
        PART_DELIVERED: (ISSUED, ACKNOWLEDGED),
        CLOSED: (ISSUED, ACKNOWLEDGED, PART_DELIVERED),
        CANCELLED: (ISSUED, ACKNOWLEDGED, PART_DELIVERED),
        CHANGED: (ISSUED, ACKNOWLEDGED),
    }
)
"""Each state that an event brings, with those it may follow: a supplier may deliver without a word before.

An order is changed by the one that takes its place; of what is delivered in part only the rest is cancelled.
"""
UNWANTED = (CANCELLED, CHANGED)
"""Nothing more is expected, and what the order covered is open again, or covered by another."""
ENDED = (CLOSED, *UNWANTED)
"""Nothing more is expected."""


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
