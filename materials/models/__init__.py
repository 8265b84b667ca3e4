"""Suppliers and prices, need dates, purchase orders and what they cover, and houses' kept totals."""

from materials.models.need import NeedDate
from materials.models.order import Coverage, OrderEvent, OrderLine, PurchaseOrder
from materials.models.rollup import KeptRollUp
from materials.models.supplier import Price, Supplier

__all__ = [
    "Coverage",
    "KeptRollUp",
    "NeedDate",
    "OrderEvent",
    "OrderLine",
    "Price",
    "PurchaseOrder",
    "Supplier",
]
