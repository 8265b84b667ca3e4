"""Who sells what, in which pack and at what price."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from projects.models import Owned
from projects.models.constraints import text_between


class Supplier(Owned):
    """A supplier. `lead_days` are working days; an order arrives the evening before it is needed.

    On `holidays`, days in ISO form, nobody works there. `freight_cents` is charged once per order.
    """

    code = models.CharField(max_length=32)
    name = models.CharField(max_length=120)
    email = models.EmailField(max_length=254, blank=True, default="")
    address = models.TextField(blank=True, default="")
    lead_days = models.PositiveSmallIntegerField(default=2)
    minimum_cents = models.BigIntegerField(default=0)
    freight_cents = models.BigIntegerField(default=0)
    holidays = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ["name", "id"]
        constraints = [
            models.UniqueConstraint("company", Lower("code"), name="supplier_code_once"),
            text_between("code", shortest=1, longest=32, name="supplier_code_length"),
            text_between("name", shortest=1, longest=120, name="supplier_name_length"),
            models.CheckConstraint(condition=Q(minimum_cents__gte=0), name="supplier_minimum"),
            models.CheckConstraint(condition=Q(freight_cents__gte=0), name="supplier_freight"),
        ]

    def __str__(self) -> str:
        """Return the name."""
        return self.name


class Price(Owned):
    """The price of one pack of a catalogue material from one supplier, from a day on.

    `material` is the catalogue's key, `pack` its packaging's key; `pack_size` counts the material's base unit
    (nanometres of roll or stick, picolitres, pieces). `breaks` are pairs of packs and cents: from so many
    packs in an order on, each costs so much. `minimum_packs` is the fewest that are sold.
    """

    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="prices")
    material = models.CharField(max_length=64)
    pack = models.CharField(max_length=64)
    pack_size = models.BigIntegerField()
    price_cents = models.BigIntegerField()
    breaks = models.JSONField(default=list, blank=True)
    minimum_packs = models.PositiveIntegerField(default=1)
    valid_from = models.DateField()
    grade = models.CharField(max_length=1, default="E")
    source = models.CharField(max_length=200, blank=True, default="")

    class Meta:
        ordering = ["material", "supplier_id", "pack_size", "-valid_from"]
        constraints = [
            models.UniqueConstraint(
                fields=["supplier", "material", "pack", "valid_from"], name="price_once_per_day"
            ),
            models.CheckConstraint(condition=Q(pack_size__gt=0), name="price_pack_size"),
            models.CheckConstraint(condition=Q(price_cents__gte=0), name="price_not_negative"),
            models.CheckConstraint(condition=Q(minimum_packs__gte=1), name="price_minimum_packs"),
        ]

    def __str__(self) -> str:
        """Return material and pack."""
        return f"{self.material}, {self.pack}"
