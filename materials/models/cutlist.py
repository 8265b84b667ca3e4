"""Cut lists: which strips are cut from which roll, and which rolls have been cut."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from materials.models.order import PurchaseOrder
from materials.models.stock import Lot, Place
from projects.models import House, Owned, User
from projects.models.constraints import at_least, text_between


class CutList(Owned):
    """What is cut for one house, for the elevations of one day, or from the rolls of one order.

    Made anew it keeps the rolls that are cut.
    `problems` are the materials that could not be laid out, each with what to do.
    """

    house = models.ForeignKey(House, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    day = models.DateField(null=True, blank=True)
    order = models.OneToOneField(
        PurchaseOrder, on_delete=models.PROTECT, related_name="+", null=True, blank=True
    )
    problems = models.JSONField(default=list, blank=True)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["-day", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["company", "house"], condition=Q(house__isnull=False), name="cut_list_of_house_once"
            ),
            models.UniqueConstraint(
                fields=["company", "day"], condition=Q(day__isnull=False), name="cut_list_of_day_once"
            ),
            models.CheckConstraint(
                condition=Q(house__isnull=False, day__isnull=True, order__isnull=True)
                | Q(house__isnull=True, day__isnull=False, order__isnull=True)
                | Q(house__isnull=True, day__isnull=True, order__isnull=False),
                name="cut_list_of_one_thing",
            ),
            at_least("version", 1, name="cut_list_version"),
        ]

    def __str__(self) -> str:
        """Return what it is for."""
        return f"cut list {self.house.code if self.house else self.order or self.day}"


class CutRoll(Owned):
    """One roll, stick or offcut with its strips in cutting order. A roll that was cut is never changed.

    `strips` hold per strip the opening's key, house, mark, part, zone and length in nanometres. `lot` and
    `place` say where it lies, None as long as it is to come. `offcut` is the lot that its rest became.
    """

    cut_list = models.ForeignKey(CutList, on_delete=models.CASCADE, related_name="rolls")
    position = models.PositiveIntegerField()
    material = models.CharField(max_length=64)
    pack = models.CharField(max_length=64, blank=True, default="")
    length_nm = models.BigIntegerField()
    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    place = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    strips = models.JSONField(default=list)
    left_nm = models.BigIntegerField()
    cut_at = models.DateTimeField(null=True, blank=True)
    cut_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    offcut = models.OneToOneField(Lot, on_delete=models.PROTECT, related_name="+", null=True, blank=True)

    class Meta:
        ordering = ["cut_list_id", "position", "id"]
        constraints = [
            models.UniqueConstraint(fields=["cut_list", "position"], name="cut_roll_position_once"),
            at_least("length_nm", 1, name="cut_roll_length"),
            at_least("left_nm", 0, name="cut_roll_left"),
            text_between("material", shortest=1, longest=64, name="cut_roll_material_length"),
            models.CheckConstraint(
                condition=Q(lot__isnull=True, place__isnull=True) | Q(lot__isnull=False, place__isnull=False),
                name="cut_roll_lies_somewhere",
            ),
        ]

    def __str__(self) -> str:
        """Return material and position."""
        return f"{self.material}, roll {self.position}"
