"""An order as its supplier gets it, whatever form it leaves the house in. Pure."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from datetime import date, datetime

from projects.errors import BadValue
from projects.quantities.money import Money

_NO_TEXT = {"Cc", "Cs", "Zl", "Zp"}
_NONCHARACTERS = {"\ufffe", "\uffff"}


@dataclass(frozen=True, slots=True)
class Party:
    """Who orders, or who is asked. `address` is line by line; `contact` is a person's name."""

    name: str
    address: tuple[str, ...] = ()
    contact: str = ""
    email: str = ""

    def __post_init__(self) -> None:
        """Raise BadValue for a sign that no form of the order can carry."""
        for what, text in (("name", self.name), ("contact", self.contact), ("e-mail address", self.email)):
            refuse_control_characters(text, f"The {what} of {self.name!r}")
        for line in self.address:
            refuse_control_characters(line, f"The address of {self.name!r}")


@dataclass(frozen=True, slots=True)
class Line:
    """So many packs of one material. `pack` says what one is, `unit` is its code in `unit_codes`."""

    position: int
    material: str
    description: str
    pack: str
    unit: str
    packs: int
    price: Money
    total: Money

    def __post_init__(self) -> None:
        """Raise BadValue where the total is not packs times price, or a text has a control character."""
        what = f"Line {self.position}"
        for text in (self.material, self.description, self.pack):
            refuse_control_characters(text, what)
        if self.total != self.price * self.packs:
            raise BadValue(
                problem=f"{what}: {self.packs} at {self.price.as_text} are not {self.total.as_text}.",
                remedy="Make the order anew.",
            )


@dataclass(frozen=True, slots=True)
class Before:
    """The order that another takes the place of: its number, the day it was issued on, what it asked for."""

    number: str
    issued: date
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Order:
    """A whole order; a draft has neither number nor moment. `issued` is by the buyer's clock.

    `deliver_by` is the evening by which everything is wanted, `week` the Monday of the week it is for.
    `total` is what the lines come to, without freight. `before` is the order that this one changes, `step`
    how often the first order was changed with this one.
    """

    number: str
    issued: datetime | None
    buyer: Party
    seller: Party
    deliver_to: str
    deliver_by: date | None
    week: date
    houses: tuple[str, ...]
    lines: tuple[Line, ...]
    total: Money
    freight: Money
    before: Before | None = None
    step: int = 0

    @property
    def payable(self) -> Money:
        """Return the lines with freight."""
        return self.total + self.freight

    def __post_init__(self) -> None:
        """Raise BadValue where the lines do not sum to the total, or a text has a control character."""
        for text in (self.number, self.deliver_to, *self.houses):
            refuse_control_characters(text, f"Order {self.number}")
        if sum((line.total for line in self.lines), Money(0, self.total.currency)) != self.total:
            raise BadValue(
                problem=f"The lines of order {self.number} do not sum to {self.total.as_text}.",
                remedy="Make the order anew.",
            )


def refuse_control_characters(text: str, what: str) -> None:
    """Raise BadValue where a text has a line break, a control character or half a character.

    XML 1.0 (section 2.2) cannot carry most of them, and a cell of a table none. Marks of writing direction
    are letters like others.
    """
    for sign in text:
        if unicodedata.category(sign) in _NO_TEXT or sign in _NONCHARACTERS:
            raise BadValue(
                problem=f"{what} has a line break or a control character.",
                remedy="Type it again by hand.",
                value=text,
            )
