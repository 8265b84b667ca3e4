"""What came of an order, told to its supplier as a ReceiptAdvice of the same language. Pure.

Source: docs.oasis-open.org/ubl/os-UBL-2.1, the schema UBL-ReceiptAdvice-2.1 and its words on quantities.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from xml.etree import ElementTree as Xml

from materials.errors import NotIssued
from materials.exchange.elements import (
    add_aggregate,
    add_basic,
    add_party,
    add_reference,
    document_root,
    written,
)
from materials.exchange.order import Line, Order, refuse_control_characters
from projects.errors import BadValue


@dataclass(frozen=True, slots=True)
class LineCame:
    """What one delivery brought of an order line, in packs; damaged and wrong ones are not accepted.

    `before` are the good packs of the deliveries before this one; `number` and `last_good` are what the good
    packs say. What was cancelled before it came is not `awaited`, so nothing of it is missing.
    """

    line: Line
    before: int = 0
    good: int = 0
    damaged: int = 0
    wrong: int = 0
    number: str = ""
    last_good: date | None = None
    awaited: bool = True

    def __post_init__(self) -> None:
        """Raise BadValue for fewer packs than none, or a lot number that no document can carry."""
        refuse_control_characters(self.number, f"The lot number of line {self.line.position}")
        if min(self.before, self.good, self.damaged, self.wrong) < 0:
            raise BadValue(problem="Packs can't be below 0.", remedy="Count what came anew.")

    @property
    def received(self) -> int:
        """Return all packs that came, good or not."""
        return self.good + self.rejected

    @property
    def rejected(self) -> int:
        """Return the packs that came and are not accepted."""
        return self.damaged + self.wrong

    @property
    def short(self) -> int:
        """Return the packs that are missing beside the rejected ones.

        Both together are what is still to come after this delivery, where not more were rejected than that.
        """
        missing = self.line.packs - self.before - self.good - self.rejected
        return max(0, missing) if self.awaited else 0

    @property
    def over(self) -> int:
        """Return the good packs of this delivery beyond what was ordered."""
        return min(self.good, max(0, self.before + self.good - self.line.packs))

    @property
    def says_nothing(self) -> bool:
        """Return whether nothing of it came and nothing is missing."""
        return not (self.received or self.short)


@dataclass(frozen=True, slots=True)
class Receipt:
    """A delivery, the `place`-th of its order, on the buyer's clock; `lines` are all of the order's."""

    order: Order
    place: int
    at: datetime
    lines: tuple[LineCame, ...]
    note: str = ""

    @property
    def number(self) -> str:
        """Return the order's number with the delivery's place: `2026-004-R1`."""
        return f"{self.order.number}-R{self.place}"

    def __post_init__(self) -> None:
        """Raise NotIssued for a draft's; BadValue where nothing came, or no document can carry the note."""
        if self.order.issued is None:
            raise NotIssued
        refuse_control_characters(self.note, f"The note of receipt {self.number}")
        if not any(each.received for each in self.lines):
            raise BadValue(problem=f"Nothing came with receipt {self.number}.", remedy="Receive a delivery.")


def ubl_receipt(receipt: Receipt) -> bytes:
    """Return the ReceiptAdvice: each line of the order that came with the delivery or is still missing."""
    order = receipt.order
    root = document_root("ReceiptAdvice", receipt.number, receipt.at)
    if receipt.note:
        add_basic(root, "Note", receipt.note)
    told = [each for each in receipt.lines if not each.says_nothing]
    add_basic(root, "LineCountNumeric", str(len(told)))
    if order.issued:
        add_reference(root, order.number, order.issued.date())
    add_party(add_aggregate(root, "DeliveryCustomerParty"), order.buyer)
    add_party(add_aggregate(root, "DespatchSupplierParty"), order.seller)
    for each in told:
        _line(add_aggregate(root, "ReceiptLine"), each, receipt.at.date())
    return written(root)


def _line(parent: Xml.Element, came: LineCame, day: date) -> None:
    unit = came.line.unit
    add_basic(parent, "ID", str(came.line.position))
    add_basic(parent, "ReceivedQuantity", str(came.received), unitCode=unit)
    if came.short:
        add_basic(parent, "ShortQuantity", str(came.short), unitCode=unit)
    if came.rejected:
        add_basic(parent, "RejectedQuantity", str(came.rejected), unitCode=unit)
    for packs, why in ((came.damaged, "damaged"), (came.wrong, "wrong")):
        if packs:
            add_basic(parent, "RejectReason", f"{packs} {why}")
    if came.over:
        add_basic(parent, "OversupplyQuantity", str(came.over), unitCode=unit)
    if came.received:
        add_basic(parent, "ReceivedDate", day.isoformat())
    add_basic(add_aggregate(parent, "OrderLineReference"), "LineID", str(came.line.position))
    _item(add_aggregate(parent, "Item"), came)


def _item(parent: Xml.Element, came: LineCame) -> None:
    add_basic(parent, "Description", came.line.pack)
    add_basic(parent, "Name", came.line.description)
    add_basic(add_aggregate(parent, "BuyersItemIdentification"), "ID", came.line.material)
    if not (came.number or came.last_good):
        return
    instance = add_aggregate(parent, "ItemInstance")
    if came.last_good:
        add_basic(instance, "BestBeforeDate", came.last_good.isoformat())
    if came.number:
        add_basic(add_aggregate(instance, "LotIdentification"), "LotNumberID", came.number)
