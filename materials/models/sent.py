"""Orders that went out by mail: to whom, when, by whom, and what was written."""

from __future__ import annotations

from django.db import models

from materials.models.order import PurchaseOrder
from projects.models import Job, Owned, User
from projects.models.constraints import text_between


class SentOrder(Owned):
    """An issued order's message to one address: append-only, once per address, for an order never changes.

    `job` carried it out and keeps the whole message as its file. `by_server` is false where there was no mail
    server, so that the message was only written down.
    """

    order = models.ForeignKey(PurchaseOrder, on_delete=models.PROTECT, related_name="sent")
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    to = models.EmailField(max_length=254)
    subject = models.CharField(max_length=254)
    text = models.TextField()
    by_server = models.BooleanField()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["order", "to"], name="order_sent_once"),
            text_between("to", shortest=3, longest=254, name="order_sent_to_length"),
        ]

    def __str__(self) -> str:
        """Return the order and the address."""
        return f"{self.order} to {self.to}"
