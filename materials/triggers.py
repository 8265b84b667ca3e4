"""What the database itself refuses about orders: nothing about an issued one ever changes."""

from __future__ import annotations

from materials.ordering.states import DRAFT, FOLLOWS
from projects.triggers import Trigger, append_only

_ISSUED = (
    "EXISTS (SELECT 1 FROM materials_purchaseorder o WHERE o.id = {row}.order_id AND o.number IS NOT NULL)"
)
_COVERED = (
    "EXISTS (SELECT 1 FROM materials_orderline l JOIN materials_purchaseorder o ON o.id = l.order_id"
    " WHERE l.id = {row}.line_id AND o.number IS NOT NULL)"
)
_CANCELLED = (
    "EXISTS (SELECT 1 FROM materials_orderline l JOIN materials_orderevent e ON e.order_id = l.order_id"
    " WHERE l.id = OLD.line_id AND e.kind = 'cancelled')"
)
_STATE = (
    "COALESCE((SELECT e.kind FROM materials_orderevent e WHERE e.order_id = NEW.order_id"  # noqa: S608
    f" ORDER BY e.id DESC LIMIT 1), '{DRAFT}')"  # a word of ours
)
_MOVES = ", ".join(f"'{before}>{event}'" for event, befores in FOLLOWS.items() for before in befores)
_WORDS = "an issued order is never changed"


def _frozen(model: str, condition: str, *, update: str = "UPDATE") -> tuple[Trigger, ...]:
    table = model.lower().replace(".", "_")
    return (
        Trigger(f"{table}_added", model, "INSERT", condition.format(row="NEW"), _WORDS),
        Trigger(f"{table}_changed", model, update, condition.format(row="OLD"), _WORDS),
        Trigger(f"{table}_deleted", model, "DELETE", condition.format(row="OLD"), _WORDS),
    )


TRIGGERS: tuple[Trigger, ...] = (
    Trigger("order_changed", "materials.PurchaseOrder", "UPDATE", "OLD.number IS NOT NULL", _WORDS),
    Trigger("order_deleted", "materials.PurchaseOrder", "DELETE", "OLD.number IS NOT NULL", _WORDS),
    *_frozen("materials.OrderLine", _ISSUED),
    # a cancelled order's coverage ends, but what it was stays
    *_frozen(
        "materials.Coverage",
        _COVERED,
        update="UPDATE OF line_id, opening_id, material, round, quantity, pieces",
    ),
    Trigger(
        "coverage_ended",
        "materials.Coverage",
        "UPDATE OF live",
        f"NEW.live <> OLD.live AND {_COVERED.format(row='OLD')} AND NOT (OLD.live AND {_CANCELLED})",
        "what an issued order covers ends only with the order",
    ),
    *append_only("materials.OrderEvent"),
    Trigger(
        "orderevent_in_order",
        "materials.OrderEvent",
        "INSERT",
        f"NOT {_ISSUED.format(row='NEW')} OR {_STATE} || '>' || NEW.kind NOT IN ({_MOVES})",
        "this may not happen to an order in its state",
    ),
)
