"""What the database itself refuses: changes to an issued order, and a ledger that does not add up."""

from __future__ import annotations

from materials.ordering.states import DRAFT, FOLLOWS, UNWANTED
from projects.triggers import Trigger, append_only

_ISSUED = (
    "EXISTS (SELECT 1 FROM materials_purchaseorder o WHERE o.id = {row}.order_id AND o.number IS NOT NULL)"
)
_COVERED = (
    "EXISTS (SELECT 1 FROM materials_orderline l JOIN materials_purchaseorder o ON o.id = l.order_id"
    " WHERE l.id = {row}.line_id AND o.number IS NOT NULL)"
)
_ENDS = ", ".join(f"'{kind}'" for kind in UNWANTED)
_UNWANTED = (
    "EXISTS (SELECT 1 FROM materials_orderline l JOIN materials_orderevent e ON e.order_id = l.order_id"  # noqa: S608
    f" WHERE l.id = OLD.line_id AND e.kind IN ({_ENDS}))"  # words of ours
)
_STATE = (
    "COALESCE((SELECT e.kind FROM materials_orderevent e WHERE e.order_id = NEW.order_id"  # noqa: S608
    f" ORDER BY e.id DESC LIMIT 1), '{DRAFT}')"  # a word of ours
)
_MOVES = ", ".join(f"'{before}>{event}'" for event, befores in FOLLOWS.items() for before in befores)
_BEFORE = "FROM materials_movement m WHERE m.lot_id = NEW.lot_id AND m.place_id = NEW.place_id"
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
    # the coverage of an order that is cancelled or changed ends, but what it was stays
    *_frozen(
        "materials.Coverage",
        _COVERED,
        update="UPDATE OF line_id, opening_id, material, round, quantity, pieces",
    ),
    Trigger(
        "coverage_ended",
        "materials.Coverage",
        "UPDATE OF live",
        f"NEW.live <> OLD.live AND {_COVERED.format(row='OLD')} AND NOT (OLD.live AND {_UNWANTED})",
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
    *append_only("materials.SentOrder"),
    *append_only("materials.PairTaken"),
    Trigger(
        "instructionsheet_stays",
        "materials.InstructionSheet",
        "UPDATE OF material, dated, exposure_days, file_path, content_hash, size_bytes",
        "NEW.material <> OLD.material OR NEW.dated <> OLD.dated OR NEW.content_hash <> OLD.content_hash"
        " OR COALESCE(NEW.exposure_days, 0) <> COALESCE(OLD.exposure_days, 0)"
        " OR NEW.file_path <> OLD.file_path OR NEW.size_bytes <> OLD.size_bytes",
        "what a sheet says is never changed: a newer one follows it",
    ),
    Trigger(
        "instructionsheet_is_kept",
        "materials.InstructionSheet",
        "DELETE",
        "1 = 1",
        "what a sheet says is never changed: a newer one follows it",
    ),
    *append_only("materials.Delivery"),
    *append_only("materials.DeliveryLine"),
    Trigger(
        "deliveryline_of_its_order",
        "materials.DeliveryLine",
        "INSERT",
        "NOT EXISTS (SELECT 1 FROM materials_orderline l JOIN materials_delivery d ON d.order_id = l.order_id"
        " WHERE l.id = NEW.line_id AND d.id = NEW.delivery_id)",
        "a line of another order, or of another company",
    ),
    *append_only("materials.Movement"),
    Trigger(
        "movement_adds_up",
        "materials.Movement",
        "INSERT",
        f"NEW.number <> 1 + COALESCE((SELECT MAX(m.number) {_BEFORE}), 0)"
        f" OR NEW.balance <> NEW.quantity + COALESCE((SELECT SUM(m.quantity) {_BEFORE}), 0)",
        "a line of the ledger goes on from the one before it",
    ),
    Trigger(
        "movement_in_whole_pieces",
        "materials.Movement",
        "INSERT",
        "EXISTS (SELECT 1 FROM materials_lot l WHERE l.id = NEW.lot_id AND NEW.quantity % l.piece_size <> 0)",
        "a lot moves in whole pieces",
    ),
    Trigger(
        "cutroll_stays",
        "materials.CutRoll",
        "UPDATE",
        "OLD.cut_at IS NOT NULL",
        "a roll that was cut is never changed",
    ),
    Trigger(
        "cutroll_is_kept",
        "materials.CutRoll",
        "DELETE",
        "OLD.cut_at IS NOT NULL",
        "a roll that was cut is never changed",
    ),
    Trigger(
        "lot_stays",
        "materials.Lot",
        "UPDATE OF material, piece_size, line_id",
        "NEW.material <> OLD.material OR NEW.piece_size <> OLD.piece_size"
        " OR COALESCE(NEW.line_id, 0) <> COALESCE(OLD.line_id, 0)",
        "what a lot is of is never changed",
    ),
)
