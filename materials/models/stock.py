"""What lies where: lots, and the ledger of everything that happened to them."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from materials.models.order import OrderLine
from projects.models import House, Owned, User
from projects.models.constraints import at_least, one_of, text_between

PLACES = ("shop", "truck", "house")
KINDS = ("receive", "move", "use", "return", "scrap", "count", "correct")


class Place(Owned):
    """Where material can lie: the shop, a crew's truck by the crew's code, a house."""

    kind = models.CharField(max_length=5)
    name = models.CharField(max_length=64)
    house = models.OneToOneField(House, on_delete=models.PROTECT, related_name="place", null=True, blank=True)

    class Meta:
        ordering = ["-kind", "name", "id"]
        constraints = [
            models.UniqueConstraint(fields=["company", "kind", "name"], name="place_once"),
            one_of("kind", PLACES, name="place_kind"),
            text_between("name", shortest=1, longest=64, name="place_name_length"),
            models.CheckConstraint(
                condition=Q(kind="house", house__isnull=False) | (~Q(kind="house") & Q(house__isnull=True)),
                name="place_house",
            ),
        ]

    def __str__(self) -> str:
        """Return the place as people say it: `shop`, `truck RED`, `house LOT-1`."""
        return self.name if self.kind == "shop" else f"{self.kind} {self.name}"


class Lot(Owned):
    """What came together and is as good as each other: of one material, with one number and last good day.

    `piece_size` is how much of the base unit one of what is counted holds: a tube, a roll, a screw. Lots move
    in whole pieces, so that a roll is never counted by the foot; an offcut is a lot of one piece. `pack` is
    the catalogue's key of such a piece, empty for offcuts and loose pieces.
    """

    material = models.CharField(max_length=64)
    number = models.CharField(max_length=64, blank=True, default="")
    last_good = models.DateField(null=True, blank=True)
    pack = models.CharField(max_length=64, blank=True, default="")
    piece_size = models.BigIntegerField()
    line = models.ForeignKey(OrderLine, on_delete=models.PROTECT, related_name="lots", null=True, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["material", F("last_good").asc(nulls_last=True), "id"]
        indexes = [models.Index(fields=["company", "material"], name="lot_by_material")]
        constraints = [
            at_least("piece_size", 1, name="lot_piece_size"),
            text_between("material", shortest=1, longest=64, name="lot_material_length"),
            text_between("number", shortest=0, longest=64, name="lot_number_length"),
        ]

    def __str__(self) -> str:
        """Return material and number."""
        return f"{self.material}, lot {self.number}" if self.number else f"{self.material}, no lot number"


class Movement(Owned):
    """One line of the ledger: append-only; a mistake is set right by another line.

    `quantity` counts the material's base unit, below 0 where something leaves. `number` counts a lot's lines
    at a place from 1, `balance` is what lies there after it, as in a bank book: of two who write at once, one
    gets the next number and the other none. A form's lines carry its key with their place in it.
    """

    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, related_name="movements")
    place = models.ForeignKey(Place, on_delete=models.PROTECT, related_name="+")
    number = models.PositiveIntegerField()
    kind = models.CharField(max_length=8)
    quantity = models.BigIntegerField()
    balance = models.BigIntegerField()
    reason = models.CharField(max_length=200, blank=True, default="")
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    key = models.CharField(max_length=80)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["lot", "place", "number"], name="movement_in_a_row"),
            models.UniqueConstraint(fields=["company", "key"], name="movement_once"),
            models.CheckConstraint(condition=~Q(quantity=0), name="movement_quantity"),
            models.CheckConstraint(condition=Q(balance__gte=0), name="movement_balance"),
            one_of("kind", KINDS, name="movement_kind"),
            text_between("key", shortest=1, longest=80, name="movement_key_length"),
        ]

    def __str__(self) -> str:
        """Return kind and quantity."""
        return f"{self.kind} {self.quantity}"


class MinimumLevel(Owned):
    """How much of a material stays on the shelf after each day's need, in base units."""

    material = models.CharField(max_length=64)
    quantity = models.BigIntegerField()

    class Meta:
        ordering = ["material"]
        constraints = [
            models.UniqueConstraint(fields=["company", "material"], name="level_once"),
            at_least("quantity", 1, name="level_quantity"),
            text_between("material", shortest=1, longest=64, name="level_material_length"),
        ]

    def __str__(self) -> str:
        """Return the material."""
        return self.material
