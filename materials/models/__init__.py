"""Suppliers, need dates, orders and their cover, stock, cut lists, kept totals, what fits what."""

from materials.models.compatibility import CoveredFace, InstructionSheet, PairTaken, SheetAge, UsedKinds
from materials.models.cutlist import CutList, CutRoll
from materials.models.delivery import Delivery, DeliveryLine
from materials.models.need import NeedDate
from materials.models.order import Coverage, OrderEvent, OrderLine, PurchaseOrder
from materials.models.rollup import KeptRollUp
from materials.models.sent import SentOrder
from materials.models.splice import SpliceRule
from materials.models.stock import Lot, MinimumLevel, Movement, Place
from materials.models.supplier import Price, Supplier

__all__ = [
    "Coverage",
    "CoveredFace",
    "CutList",
    "CutRoll",
    "Delivery",
    "DeliveryLine",
    "InstructionSheet",
    "KeptRollUp",
    "Lot",
    "MinimumLevel",
    "Movement",
    "NeedDate",
    "OrderEvent",
    "OrderLine",
    "PairTaken",
    "Place",
    "Price",
    "PurchaseOrder",
    "SentOrder",
    "SheetAge",
    "SpliceRule",
    "Supplier",
    "UsedKinds",
]
