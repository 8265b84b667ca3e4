"""What an order changes in the one before it, as its page shows it."""

from __future__ import annotations

from materials.convert import order_value
from materials.exchange.change import LineChange, line_changes
from materials.selectors.orders import OrderShown


def changes_shown(order: OrderShown) -> tuple[LineChange, ...]:
    """Return the lines of an order that changes another, dropped ones last; none where it changes none."""
    if order.row.changes is None:
        return ()
    value = order_value(order.row, lines=order.row.lines.all(), houses=order.houses)
    return line_changes(value)
