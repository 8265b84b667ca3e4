"""What happened to an order, in the order in which it did: its events, and to whom it was sent."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from materials.models import PurchaseOrder, SentOrder
from projects.models import User


@dataclass(frozen=True, slots=True)
class Happening:
    """One thing that happened: an event by its name, or a message that went out."""

    at: datetime
    what: str
    by: User | None
    note: str = ""
    sent: SentOrder | None = None


def history_of(order: PurchaseOrder) -> tuple[Happening, ...]:
    """Return what happened to the order, first things first; its events are fetched already."""
    events = [Happening(event.at, event.kind, event.by, event.note) for event in order.events.all()]
    sent = [
        Happening(row.at, "sent" if row.by_server else "written", row.by, sent=row)
        for row in order.sent.select_related("by")
    ]
    return tuple(sorted([*events, *sent], key=lambda happening: happening.at))
