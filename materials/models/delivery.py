"""What came of an issued order: each delivery as it was received, for ever."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from materials.models.order import OrderLine, PurchaseOrder
from materials.models.stock import Lot
from projects.models import Owned, User
from projects.models.constraints import text_between


class Delivery(Owned):
    """One delivery, whole or in part. `key` with `body_hash` makes a form that is sent twice count once."""

    order = models.ForeignKey(PurchaseOrder, on_delete=models.PROTECT, related_name="deliveries")
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    note = models.CharField(max_length=200, blank=True, default="")
    key = models.CharField(max_length=64)
    body_hash = models.CharField(max_length=64)

    class Meta:
        ordering = ["id"]
        verbose_name_plural = "deliveries"
        constraints = [
            models.UniqueConstraint(fields=["company", "key"], name="delivery_once"),
            text_between("key", shortest=1, longest=64, name="delivery_key_length"),
        ]

    def __str__(self) -> str:
        """Return of which order."""
        return f"delivery of {self.order}"


class DeliveryLine(Owned):
    """What came of one order line, in packs: `good` ones became `lot`; damaged and wrong ones never do.

    `price_cents` is what the delivery note asks for one pack, None where it says nothing.
    """

    delivery = models.ForeignKey(Delivery, on_delete=models.PROTECT, related_name="lines")
    line = models.ForeignKey(OrderLine, on_delete=models.PROTECT, related_name="came")
    lot = models.OneToOneField(Lot, on_delete=models.PROTECT, related_name="came", null=True, blank=True)
    good = models.PositiveIntegerField(default=0)
    damaged = models.PositiveIntegerField(default=0)
    wrong = models.PositiveIntegerField(default=0)
    price_cents = models.BigIntegerField(null=True, blank=True)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["delivery", "line"], name="delivery_line_once"),
            models.CheckConstraint(
                condition=Q(good=0, lot__isnull=True) | Q(good__gt=0, lot__isnull=False),
                name="delivery_line_lot",
            ),
            models.CheckConstraint(
                condition=Q(good__gt=0) | Q(damaged__gt=0) | Q(wrong__gt=0), name="delivery_line_packs"
            ),
            models.CheckConstraint(
                condition=Q(price_cents__isnull=True) | Q(price_cents__gte=0), name="delivery_line_price"
            ),
        ]

    def __str__(self) -> str:
        """Return the good packs."""
        return f"{self.good} packs"
