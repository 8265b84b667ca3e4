"""Suppliers and prices, need dates, purchase orders and what they cover."""

from materials.models.need import NeedDate
from materials.models.order import Coverage, OrderEvent, OrderLine, PurchaseOrder
from materials.models.supplier import Price, Supplier

__all__ = ["Coverage", "NeedDate", "OrderEvent", "OrderLine", "Price", "PurchaseOrder", "Supplier"]
