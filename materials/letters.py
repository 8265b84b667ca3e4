"""The message that brings an order to its supplier."""

from __future__ import annotations

from datetime import datetime
from email.utils import format_datetime, formataddr, parseaddr

from django.conf import settings
from django.core.mail import EmailMessage
from django.utils.dateformat import format as in_words

from materials.convert import order_value
from materials.documents import order_file, order_pdf
from materials.exchange.order import Order
from materials.selectors.orders import OrderShown


def order_letter(order: OrderShown, *, to: str, at: datetime) -> EmailMessage:
    """Return the message with the order as PDF and as UBL; answers go to whoever issued it.

    The same order to the same address has the same Message-ID, so that a mailbox knows a second copy. Raises
    PdfUnavailable, and NotIssued for a draft.
    """
    value = order_value(order.row, lines=order.row.lines.all(), houses=order.houses)
    sender = parseaddr(settings.DEFAULT_FROM_EMAIL)[1]
    buyer = value.buyer
    letter = EmailMessage(
        subject=f"Order {value.number} from {buyer.name}",
        body=_text(value),
        from_email=formataddr((buyer.name, sender)),
        to=[to],
        reply_to=[formataddr((buyer.contact, buyer.email))] if buyer.email else [],
        headers={
            "Date": format_datetime(at),
            "Message-ID": f"<order.{order.row.pk}.{order.row.content_hash[:16]}@{sender.partition('@')[2]}>",
        },
    )
    for document in (order_pdf(order), order_file(order, "xml")):
        letter.attach(document.name, document.content, document.content_type)
    return letter


def _text(order: Order) -> str:
    """Return what stands in the message: plain text, which nothing needs to be escaped in."""
    evening = f"the evening of {in_words(order.deliver_by, 'l j F Y')}" if order.deliver_by else "as agreed"
    signed = [order.buyer.contact] if order.buyer.contact else []
    return "\n".join(
        [
            f"Purchase order {order.number} from {order.buyer.name}",
            "",
            f"Deliver to: {order.deliver_to or 'as agreed'}",
            f"Deliver by: {evening}",
            f"Lines: {len(order.lines)}",
            f"Total: {order.total.as_text} {order.total.currency}",
            "",
            "The order is attached as a PDF, and as UBL 2.1 for a program that reads orders. Please confirm"
            " by reply, and tell us before you send where a price or the day of delivery differs.",
            "",
            *signed,
            order.buyer.name,
            "",
        ]
    )
