"""Sending an issued order to its supplier: asked for once, done by a job, and written down."""

from __future__ import annotations

import hashlib

from django.core.mail import EmailMessage
from django.db import transaction
from django.utils import timezone

from materials.convert import state_of
from materials.errors import NotIssued, OrderMoved
from materials.models import PurchaseOrder, SentOrder
from materials.ordering.states import CANCELLED, CHANGED
from projects import jobs
from projects.actors import Actor, CommandLine
from projects.errors import BadValue
from projects.mail import has_server
from projects.models import Job, Membership
from projects.rights import Action, require
from projects.services.writing import record

SEND_KIND = "order-send"
ORDER, CANCELLATION = "order", "cancellation"


def send_order(*, by: Actor, order: PurchaseOrder) -> Job:
    """Return the job that sends the order to the supplier's address: a new one, or the one that did or does.

    Of a cancelled order its cancellation is sent. Raises NotIssued for a draft, OrderMoved where another
    order took its place, BadValue where the supplier has no address.
    """
    require(by, Action.ISSUE_ORDERS, order)
    if order.number is None:
        raise NotIssued
    about = message_of(order)
    to = order.supplier.email
    if not to:
        raise BadValue(
            problem=f"{order.supplier.name} has no e-mail address.",
            remedy="Set it under Suppliers and prices, then send.",
        )
    return jobs.enqueue(
        by=by,
        kind=SEND_KIND,
        arguments={"order": order.pk, "to": to, "about": about},
        input_hash=send_hash(order, to, about),
    )


def message_of(order: PurchaseOrder) -> str:
    """Return what there is to send of an issued order. Raises OrderMoved where another took its place."""
    state = state_of(order, order.events.all())
    if state == CHANGED:
        raise OrderMoved(number=order.number, state=state)
    return CANCELLATION if state == CANCELLED else ORDER


def send_hash(order: PurchaseOrder, to: str, about: str) -> str:
    """Return what makes a message: which order, what it says, what of it is told, and to whom it goes."""
    return hashlib.sha256(f"{order.pk}:{order.content_hash}:{to}:{about}".encode()).hexdigest()


@transaction.atomic
def note_sent(*, job: Job, order: PurchaseOrder, letter: EmailMessage) -> SentOrder:
    """Return the row that says that a job's letter went out; it is written once per message and address."""
    (to,) = letter.to
    sent, is_new = SentOrder.objects.get_or_create(
        order=order,
        to=to,
        about=job.arguments["about"],
        defaults={
            "company": job.company,
            "job": job,
            "at": timezone.now(),
            "by": job.created_by,
            "subject": str(letter.subject)[:254],
            "text": str(letter.body),
            "by_server": has_server(),
        },
    )
    if is_new:
        record(by=_actor(job), action="send order", subject=order, after={"to": to, "about": sent.about})
    return sent


def _actor(job: Job) -> Actor:
    if job.created_by is None:
        return CommandLine(job.company)
    return Membership.objects.of(job.company).select_related("user", "company").get(user=job.created_by)
