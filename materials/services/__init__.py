"""Every write to need dates, suppliers, prices and orders."""

from materials.services.drafts import discard_draft, make_drafts, order_difference
from materials.services.issuing import issue_order
from materials.services.needs import set_need_dates
from materials.services.prices import set_price, set_supplier

__all__ = [
    "discard_draft",
    "issue_order",
    "make_drafts",
    "order_difference",
    "set_need_dates",
    "set_price",
    "set_supplier",
]
