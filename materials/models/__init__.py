"""Suppliers and prices, need dates, orders and their cover, stock and ledger, cut lists, kept totals."""

from materials.models.cutlist import CutList, CutRoll
from materials.models.delivery import Delivery, DeliveryLine
from materials.models.need import NeedDate
from materials.models.order import Coverage, OrderEvent, OrderLine, PurchaseOrder
from materials.models.rollup import KeptRollUp
from materials.models.sent import SentOrder
from materials.models.stock import Lot, MinimumLevel, Movement, Place
from materials.models.supplier import Price, Supplier

__all__ = [
    "Coverage",
    "CutList",
    "CutRoll",
    "Delivery",
    "DeliveryLine",
    "KeptRollUp",
    "Lot",
    "MinimumLevel",
    "Movement",
    "NeedDate",
    "OrderEvent",
    "OrderLine",
    "Place",
    "Price",
    "PurchaseOrder",
    "SentOrder",
    "Supplier",
]
