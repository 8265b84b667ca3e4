"""What follows an issued order: the supplier's word, its end, or another order in its place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from django.db import transaction
from django.db.models import Sum
from django.utils import timezone

from materials.convert import state_of
from materials.errors import NothingLeft, OrderMoved
from materials.models import Coverage, OrderEvent, PurchaseOrder
from materials.ordering.buying import Wanted
from materials.ordering.states import ACKNOWLEDGED, CANCELLED, CHANGED, may_follow
from materials.selectors.growth import growth_of
from materials.services.drafts import discard_draft
from materials.services.making import lack_of, write_drafts
from projects.actors import Actor
from projects.rights import Action, require
from projects.services.writing import hold, hold_company, record
from projects.texts import clean_text


@transaction.atomic
def acknowledge_order(*, by: Actor, order: PurchaseOrder, note: str = "") -> PurchaseOrder:
    """Return the order with the supplier's word that it comes; `note` is what he said of price or day.

    Said twice it is written once. Raises OrderMoved where the order is past that.
    """
    require(by, Action.ISSUE_ORDERS, order)
    held = hold(order)
    note = clean_text(note, field="note", what="Note", longest=200, required=False)
    if _moves_on(held, ACKNOWLEDGED):
        _add(by, held, ACKNOWLEDGED, note)
    return held


@transaction.atomic
def cancel_order(*, by: Actor, order: PurchaseOrder, reason: str) -> PurchaseOrder:
    """Return the order, of which nothing more is expected; what it covered is open again.

    What came of it stays in stock. A draft that was to change it is discarded. Cancelled twice it is
    cancelled once. Raises OrderMoved where the order is past that, BadValue without a reason.
    """
    require(by, Action.ISSUE_ORDERS, order)
    reason = clean_text(reason, field="reason", what="Reason", longest=200)
    hold_company(by)
    held = hold(order)
    if _moves_on(held, CANCELLED):
        for draft in PurchaseOrder.objects.of(by.company).filter(changes=held, number__isnull=True):
            discard_draft(by=by, order=draft)
        _add(by, held, CANCELLED, reason)
        Coverage.objects.of(by.company).filter(line__order=held, live=True).update(live=False)
    return held


@transaction.atomic
def draft_change(*, by: Actor, order: PurchaseOrder) -> PurchaseOrder:
    """Return a draft to the same supplier that brings what the order's openings need now, all of it.

    Issued, it takes the order's place; until then the order stands. Asked for again, it is made anew. Raises
    OrderMoved where the order can no longer be changed, NothingLeft where nothing of it is needed.
    """
    require(by, Action.ISSUE_ORDERS, order)
    hold_company(by)
    held = hold(order)
    _moves_on(held, CHANGED)
    for draft in PurchaseOrder.objects.of(by.company).filter(changes=held, number__isnull=True):
        discard_draft(by=by, order=draft)
    growth = growth_of(held, anew=True)
    lack = replace(lack_of(held, growth), wanted=_with_reserve(held, growth.wanted))
    drafts, _ = write_drafts(by=by, lack=lack, changes=held)
    if not drafts:
        raise NothingLeft(number=held.number)
    return drafts[0]


def take_its_place(*, by: Actor, order: PurchaseOrder) -> None:
    """End the order that the held draft `order` changes, and let the draft cover in its place.

    Called at the moment of issue, before the draft has its number. Raises OrderMoved.
    """
    changed = hold(order.changes) if order.changes else None
    if changed is None:
        return
    _moves_on(changed, CHANGED)
    _add(by, changed, CHANGED, "")
    Coverage.objects.of(by.company).filter(line__order=changed, live=True).update(live=False)
    Coverage.objects.of(by.company).filter(line__order=order).update(live=True)


def _with_reserve(order: PurchaseOrder, wanted: Iterable[Wanted]) -> tuple[Wanted, ...]:
    """Return what is wanted with what the order was to bring beyond its openings' need, for the shelf."""
    kept: Counter[str] = Counter()
    for line in order.lines.all():
        kept[line.material] += line.need
    covers = Coverage.objects.of(order.company).filter(line__order=order, live=True)
    kept.subtract(dict(covers.order_by().values_list("material").annotate(total=Sum("quantity"))))
    return tuple(
        one if one.pieces else replace(one, quantity=one.quantity + max(0, kept[one.material]))
        for one in wanted
    )


def _moves_on(order: PurchaseOrder, event: str) -> bool:
    """Return whether the event is to be written: False where it was before. Raises OrderMoved."""
    state = state_of(order, order.events.all())
    if may_follow(state, event):
        return True
    if event != CHANGED and order.events.filter(kind=event).exists():
        return False
    raise OrderMoved(number=order.number or "This draft", state=state)


def _add(by: Actor, order: PurchaseOrder, event: str, note: str) -> None:
    OrderEvent.objects.create(
        company=by.company, order=order, kind=event, at=timezone.now(), by=by.user, note=note
    )
    record(by=by, action=f"order {event}", subject=order, after={"number": order.number, "note": note})
