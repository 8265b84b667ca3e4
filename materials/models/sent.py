"""Orders that went out by mail: to whom, when, by whom, and what was written."""

from __future__ import annotations

from django.db import models

from materials.models.order import PurchaseOrder
from projects.models import Job, Owned, User
from projects.models.constraints import one_of, text_between


class SentOrder(Owned):
    """A message about an issued order to one address: append-only, once per address and what it is about.

    It brings the order, or says that it is cancelled.

    `job` carried it out and keeps the whole message as its file. `by_server` is false where there was no mail
    server, so that the message was only written down.
    """

    order = models.ForeignKey(PurchaseOrder, on_delete=models.PROTECT, related_name="sent")
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    to = models.EmailField(max_length=254)
    about = models.CharField(max_length=12, default="order")
    subject = models.CharField(max_length=254)
    text = models.TextField()
    by_server = models.BooleanField()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["order", "to", "about"], name="order_sent_once"),
            one_of("about", ["order", "cancellation"], name="order_sent_about"),
            text_between("to", shortest=3, longest=254, name="order_sent_to_length"),
        ]

    def __str__(self) -> str:
        """Return the order and the address."""
        return f"{self.order} to {self.to}"
