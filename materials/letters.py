"""The messages that bring an order to its supplier, and its end."""

from __future__ import annotations

from datetime import datetime
from email.utils import format_datetime, formataddr, parseaddr

from django.conf import settings
from django.core.mail import EmailMessage
from django.utils.dateformat import format as in_words

from materials.documents import order_cancellation, order_file, order_pdf, value_of
from materials.exchange.order import Order
from materials.ordering.states import CANCELLED
from materials.selectors.orders import OrderShown


def order_letter(order: OrderShown, *, to: str, at: datetime) -> EmailMessage:
    """Return the message with the order as PDF and as UBL; answers go to whoever issued it.

    The same order to the same address has the same Message-ID, so that a mailbox knows a second copy. Raises
    PdfUnavailable, and NotIssued for a draft.
    """
    value = value_of(order)
    what = f"Change order {value.number}" if value.before else f"Order {value.number}"
    letter = _letter("order", order, value, subject=what, text=_text(value), to=to, at=at)
    for document in (order_pdf(order), order_file(order, "xml")):
        letter.attach(document.name, document.content, document.content_type)
    return letter


def cancellation_letter(order: OrderShown, *, to: str, at: datetime) -> EmailMessage:
    """Return the message that a cancelled order is not wanted any more, with its UBL; as `order_letter`."""
    value = value_of(order)
    event = next(event for event in order.row.events.all() if event.kind == CANCELLED)
    subject = f"Cancellation of order {value.number}"
    text = _cancelled(value, reason=event.note)
    letter = _letter("cancellation", order, value, subject=subject, text=text, to=to, at=at)
    document = order_cancellation(order, reason=event.note, at=event.at)
    letter.attach(document.name, document.content, document.content_type)
    return letter


def _letter(
    about: str, order: OrderShown, value: Order, *, subject: str, text: str, to: str, at: datetime
) -> EmailMessage:
    sender = parseaddr(settings.DEFAULT_FROM_EMAIL)[1]
    buyer = value.buyer
    name = f"{about}.{order.row.pk}.{order.row.content_hash[:16]}"
    return EmailMessage(
        subject=f"{subject} from {buyer.name}",
        body=text,
        from_email=formataddr((buyer.name, sender)),
        to=[to],
        reply_to=[formataddr((buyer.contact, buyer.email))] if buyer.email else [],
        headers={
            "Date": format_datetime(at),
            "Message-ID": f"<{name}@{sender.partition('@')[2]}>",
        },
    )


def _cancelled(order: Order, *, reason: str) -> str:
    return "\n".join(
        [
            f"Please cancel what is still to come of order {order.number} from {order.buyer.name}.",
            "",
            f"Reason: {reason}",
            "",
            "Please confirm by reply, and tell us at once where some of it is on its way already.",
            "",
            *_signature(order),
        ]
    )


def _signature(order: Order) -> list[str]:
    return [*([order.buyer.contact] if order.buyer.contact else []), order.buyer.name, ""]


def _text(order: Order) -> str:
    """Return what stands in the message: plain text, which nothing needs to be escaped in."""
    evening = f"the evening of {in_words(order.deliver_by, 'l j F Y')}" if order.deliver_by else "as agreed"
    taken = f"It takes the place of order {order.before.number}: send this one only." if order.before else ""
    return "\n".join(
        [
            f"{'Change' if order.before else 'Purchase'} order {order.number} from {order.buyer.name}",
            *([taken] if taken else []),
            "",
            f"Deliver to: {order.deliver_to or 'as agreed'}",
            f"Deliver by: {evening}",
            f"Lines: {len(order.lines)}",
            f"Total: {order.payable.as_text} {order.total.currency}{_freight(order)}",
            "",
            "The order is attached as a PDF, and as UBL 2.1 for a program that reads orders. Please confirm"
            " by reply, and tell us before you send where a price or the day of delivery differs.",
            "",
            *_signature(order),
        ]
    )


def _freight(order: Order) -> str:
    return f", freight of {order.freight.as_text} in it" if order.freight.cents else ""
