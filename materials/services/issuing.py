"""Issuing an order: once, with a number, and never changed after."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

from django.db import transaction
from django.db.models import prefetch_related_objects
from django.utils import timezone

from materials.convert import content_hash_of, heading_of, issue_body_hash, order_value, paper_of
from materials.errors import AlreadyIssued, DraftIsStale, OtherLines
from materials.models import OrderEvent, OrderLine, PurchaseOrder
from materials.ordering.numbers import OrderNumber, next_step
from materials.selectors.growth import growth_of
from materials.selectors.orders import houses_of, local_time, local_today
from materials.services.following import take_its_place
from projects import jobs
from projects.actors import Actor
from projects.errors import NotThere
from projects.models import Job
from projects.rights import Action, require
from projects.services.numbers import next_number
from projects.services.writing import hold, hold_company, record

NUMBER_KIND = "order"
PDF_KIND = "order-pdf"


@transaction.atomic
def issue_order(*, by: Actor, order: PurchaseOrder, key: str, seen: str) -> PurchaseOrder:
    """Return the order, issued with the next number of the year, its PDF on the way.

    `key` is the form's own; `seen` is the content hash of what the person saw. The same key and content again
    return the same order. Raises OtherLines for the same key with other content, AlreadyIssued where somebody
    else was first, DraftIsStale where lines or houses changed since the person looked,
    BadValue for a text that no form of the order can carry, OrderMoved where the order that it changes is
    past that.
    """
    require(by, Action.ISSUE_ORDERS, order)
    hold_company(by)
    body = issue_body_hash(order, seen)
    replayed = _replayed(by, key, body)
    if replayed is not None:
        return replayed
    try:
        held = hold(order)
    except NotThere:
        raise DraftIsStale from None
    if held.number is not None and held.issued_at is not None:
        raise AlreadyIssued(
            who=held.issued_by.name if held.issued_by else "The command line",
            number=held.number,
            when=f"{local_time(by.company, held.issued_at):%H:%M on %d %b}",
            order=held.pk,
        )
    lines = list(held.lines.all())
    content = content_hash_of(held, lines)
    if seen != content or growth_of(held).is_stale:
        raise DraftIsStale
    return _issue(by=by, order=held, lines=lines, key=key, body=body, content=content)


def request_pdf(*, by: Actor, order: PurchaseOrder) -> Job:
    """Return the job that draws the order's PDF: a new one, or the one that did or does it."""
    require(by, Action.SEE_ORDERS, order)
    return jobs.enqueue(by=by, kind=PDF_KIND, arguments={"order": order.pk}, input_hash=pdf_hash(order))


def pdf_hash(order: PurchaseOrder) -> str:
    """Return what the PDF is made from: an issued order's content, or a draft's with its paper."""
    content = order.content_hash or f"{content_hash_of(order, order.lines.all())}:{paper_of(order)}"
    return hashlib.sha256(f"{order.pk}:{order.number}:{content}".encode()).hexdigest()


def _replayed(by: Actor, key: str, body: str) -> PurchaseOrder | None:
    stored = PurchaseOrder.objects.of(by.company).filter(issue_key=key).first()
    if stored is None:
        return None
    if stored.issue_body_hash != body:
        raise OtherLines
    return stored


def _issue(
    *, by: Actor, order: PurchaseOrder, lines: Sequence[OrderLine], key: str, body: str, content: str
) -> PurchaseOrder:
    now = timezone.now()
    take_its_place(by=by, order=order)
    order.number = _number_of(by, order)
    order.issued_at, order.issued_by = now, by.user
    order.issue_key, order.issue_body_hash, order.content_hash = key, body, content
    houses = houses_of(by.company, [order]).get(order.pk, set())
    prefetch_related_objects([order], "changes__lines")
    order.heading = heading_of(order, houses)
    order_value(order, lines=lines, houses=houses)  # what no supplier could read is refused now
    order.version += 1
    order.save()
    OrderEvent.objects.create(company=by.company, order=order, kind="issued", at=now, by=by.user)
    record(by=by, action="issue order", subject=order, after={"number": order.number, "hash": content})
    request_pdf(by=by, order=order)
    return order


def _number_of(by: Actor, order: PurchaseOrder) -> str:
    """Return the year's next number, or that of the order it changes with the next step."""
    if order.changes is not None and order.changes.number:
        return next_step(order.changes.number)
    year = local_today(by.company).year
    return str(OrderNumber(year, next_number(by=by, kind=NUMBER_KIND, year=year)))
