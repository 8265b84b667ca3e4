"""Every write to need dates, prices, orders, deliveries, stock, cut lists, and what fits what."""

from materials.services.compatibility import set_kinds, take_on_pair
from materials.services.covering import set_covered
from materials.services.cutting import cut_roll, make_cut_list
from materials.services.deliveries import Came, receive_delivery
from materials.services.drafts import discard_draft, make_drafts, order_difference
from materials.services.following import acknowledge_order, cancel_order, draft_change
from materials.services.instructions import add_sheet, restore_sheet, set_sheet_age, withdraw_sheet
from materials.services.issuing import issue_order
from materials.services.needs import set_days_of_house, set_need_dates
from materials.services.price_lists import load_price_list
from materials.services.prices import set_price, set_supplier
from materials.services.sending import send_order
from materials.services.splices import allow_splices, forbid_splices
from materials.services.stock import (
    add_offcut,
    add_stock,
    correct_lot,
    count_lot,
    make_place,
    move_lot,
    set_minimum,
    take_from_lot,
)
from materials.services.using import Used, use_at_house

__all__ = [
    "Used",
    "use_at_house",
    "Came",
    "acknowledge_order",
    "add_offcut",
    "add_sheet",
    "add_stock",
    "allow_splices",
    "cancel_order",
    "correct_lot",
    "count_lot",
    "cut_roll",
    "discard_draft",
    "draft_change",
    "forbid_splices",
    "issue_order",
    "load_price_list",
    "make_cut_list",
    "make_drafts",
    "make_place",
    "move_lot",
    "order_difference",
    "receive_delivery",
    "restore_sheet",
    "send_order",
    "set_covered",
    "set_kinds",
    "set_minimum",
    "set_days_of_house",
    "set_need_dates",
    "set_price",
    "set_sheet_age",
    "set_supplier",
    "take_from_lot",
    "take_on_pair",
    "withdraw_sheet",
]
