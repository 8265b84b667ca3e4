"""Receiving what was ordered: in parts, with lots; what came is never lost and never counted twice."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date

from django.db import transaction
from django.utils import timezone

from materials.catalogue.counting import counted_in
from materials.catalogue.load import load_catalogue
from materials.convert import state_of
from materials.errors import NotIssued, OtherLines
from materials.models import Delivery, DeliveryLine, Lot, OrderEvent, OrderLine, PurchaseOrder
from materials.ordering.states import CLOSED, PART_DELIVERED, may_follow
from materials.selectors.supply import received_of
from materials.services.ledger import Step, book, new_lot, shop_of
from projects.actors import Actor
from projects.errors import BadValue, NotThere
from projects.quantities.money import Money
from projects.rights import Action, require
from projects.services.entries import enter_once
from projects.services.writing import hold, record
from projects.texts import clean_text


@dataclass(frozen=True, slots=True)
class Came:
    """What came of one order line, in packs; `number` and `last_good` are what the good packs say.

    `price` is what the delivery note asks for one pack, where it says so.
    """

    line: int
    good: int = 0
    damaged: int = 0
    wrong: int = 0
    number: str = ""
    last_good: date | None = None
    price: Money | None = None

    def __post_init__(self) -> None:
        """Raise BadValue for fewer packs, or a lower price, than none."""
        if self.price is not None and self.price.cents < 0:
            raise BadValue(problem="A price can't be below nothing.", remedy="Give what one pack costs.")
        if min(self.good, self.damaged, self.wrong) < 0:
            raise BadValue(problem="Packs can't be below 0.", remedy="Leave what did not come empty.")

    @property
    def is_nothing(self) -> bool:
        """Return whether nothing came of the line."""
        return not (self.good or self.damaged or self.wrong)


@transaction.atomic
def receive_delivery(
    *, by: Actor, order: PurchaseOrder, came: Sequence[Came], key: str, note: str = ""
) -> Delivery:
    """Return the delivery: its good packs are lots in the shop, and the order's state is folded on.

    More than was ordered is taken as it came. The same `key` with the same packs returns the same delivery.
    Raises OtherLines for the same key with others, NotIssued for a draft, BadValue where nothing came,
    NotThere for another order's line.
    """
    require(by, Action.RECEIVE_DELIVERIES, order)
    held = hold(order)
    if held.number is None:
        raise NotIssued
    came = [each for each in came if not each.is_nothing]
    if not came:
        raise BadValue(problem="No packs are filled in.", remedy="Say what came of at least one line.")
    told = [_plain(each) for each in came]
    note_kept = clean_text(note, field="note", what="Note", longest=200, required=False)
    delivery, is_new = enter_once(
        Delivery,
        by=by,
        key=key,
        body=[held.pk, note, *told],
        other=OtherLines,
        order=held,
        note=note_kept,
    )
    if not is_new:
        return delivery
    lines = {line.pk: line for line in held.lines.all()}
    for place, each in enumerate(came, 1):
        _receive(by, delivery, each, lines=lines, key=f"{key}.{place}")
    _fold_on(by, held, lines)
    record(by=by, action="receive delivery", subject=held, after={"lines": told})
    return delivery


def _receive(by: Actor, delivery: Delivery, came: Came, *, lines: Mapping[int, OrderLine], key: str) -> None:
    line = lines.get(came.line)
    if line is None:
        raise NotThere
    lot = _lot(by, line, came, key=key) if came.good else None
    DeliveryLine.objects.create(
        company=by.company,
        delivery=delivery,
        line=line,
        lot=lot,
        good=came.good,
        damaged=came.damaged,
        wrong=came.wrong,
        price_cents=came.price.cents if came.price else None,
    )


def _lot(by: Actor, line: OrderLine, came: Came, *, key: str) -> Lot:
    pack, size = counted_in(load_catalogue().material(line.material).pack(line.pack))
    if line.pack_size % size:  # the catalogue's pack has changed since the order
        pack, size = line.pack, line.pack_size
    lot = new_lot(
        by,
        material=line.material,
        pack=pack,
        piece_size=size,
        number=came.number,
        last_good=came.last_good,
        line=line,
    )
    quantity = came.good * line.pack_size
    book(by, [Step(lot, shop_of(by), "receive", quantity)], key=key, reason=f"order {line.order.number}")
    return lot


def _fold_on(by: Actor, order: PurchaseOrder, lines: Mapping[int, OrderLine]) -> None:
    """Write the event that the delivery brings: closed once every line has come, part delivered before."""
    received = received_of(by.company, lines)
    whole = all(received[pk] >= line.packs * line.pack_size for pk, line in lines.items())
    event = CLOSED if whole else PART_DELIVERED
    if may_follow(state_of(order, order.events.all()), event):
        OrderEvent.objects.create(company=by.company, order=order, kind=event, at=timezone.now(), by=by.user)


def _plain(came: Came) -> dict[str, object]:
    return {
        **asdict(came),
        "last_good": came.last_good.isoformat() if came.last_good else None,
        "price": came.price.as_text if came.price else None,
    }
