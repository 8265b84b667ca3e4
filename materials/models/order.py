"""Purchase orders: drafts, issued orders that never change, their events, and which demand each covers."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from materials.models.supplier import Supplier
from openings.models import Opening
from projects.models import Owned, Project, User
from projects.models.constraints import at_least, one_of, text_between


class PurchaseOrder(Owned):
    """An order to one supplier for one week and delivery place. After issue triggers refuse every change.

    The row holds no status after issue: the state is the fold of `events`. `issue_key` with `issue_body_hash`
    makes a form that is sent twice answer twice with one order. `inputs` is all that its numbers come from,
    `input_hash` the hash of it. `heading` is what stands on it beside its lines, as it was at issue: a
    company that moves, or a house with a new code, does not change what was sent. It is empty before.
    `total_cents` is what the lines come to; freight is charged once on top. An order that `changes` another
    takes its place at the moment it is issued; until then what it covers is not live.
    """

    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="orders")
    project = models.ForeignKey(Project, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    week = models.DateField(help_text="The Monday of the week the materials are for.")
    number = models.CharField(max_length=16, null=True, blank=True)
    deliver_to = models.TextField(blank=True, default="")
    deliver_by = models.DateField(null=True, blank=True)
    currency = models.CharField(max_length=3, default="USD")
    total_cents = models.BigIntegerField(default=0)
    freight_cents = models.BigIntegerField(default=0)
    changes = models.ForeignKey(
        "self", on_delete=models.PROTECT, related_name="changed_by", null=True, blank=True
    )
    specification = models.JSONField(default=dict, blank=True)
    inputs = models.JSONField(default=dict, blank=True)
    heading = models.JSONField(default=dict, blank=True)
    input_hash = models.CharField(max_length=64)
    rules_version = models.CharField(max_length=16)
    content_hash = models.CharField(max_length=64, blank=True, default="")
    issue_key = models.CharField(max_length=64, null=True, blank=True)
    issue_body_hash = models.CharField(max_length=64, blank=True, default="")
    issued_at = models.DateTimeField(null=True, blank=True)
    issued_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    created_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["-week", "supplier_id", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["company", "number"], condition=Q(number__isnull=False), name="order_number_once"
            ),
            models.UniqueConstraint(
                fields=["company", "issue_key"], condition=Q(issue_key__isnull=False), name="order_key_once"
            ),
            models.CheckConstraint(
                condition=Q(number__isnull=True, issued_at__isnull=True, content_hash="")
                | (Q(number__isnull=False, issued_at__isnull=False) & ~Q(content_hash="")),
                name="order_issue_is_whole",
            ),
            models.UniqueConstraint(
                fields=["changes"], condition=Q(changes__isnull=False), name="order_changed_once"
            ),
            at_least("freight_cents", 0, name="order_freight"),
            at_least("version", 1, name="order_version"),
        ]

    def __str__(self) -> str:
        """Return the number, or that it is a draft."""
        return self.number or "draft"


class OrderLine(Owned):
    """One material in one pack. `need` and `pack_size` count the material's base unit; money is in cents."""

    order = models.ForeignKey(PurchaseOrder, on_delete=models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField()
    material = models.CharField(max_length=64)
    description = models.CharField(max_length=200)
    need = models.BigIntegerField()
    unit = models.CharField(max_length=16)
    pack = models.CharField(max_length=64)
    pack_size = models.BigIntegerField()
    packs = models.PositiveIntegerField()
    unit_price_cents = models.BigIntegerField()
    total_cents = models.BigIntegerField()

    class Meta:
        ordering = ["position", "id"]
        constraints = [
            models.UniqueConstraint(fields=["order", "position"], name="order_line_position_once"),
            at_least("packs", 1, name="order_line_packs"),
            text_between("material", shortest=1, longest=64, name="order_line_material_length"),
            models.CheckConstraint(
                condition=Q(total_cents=models.F("packs") * models.F("unit_price_cents")),
                name="order_line_total",
            ),
        ]

    def __str__(self) -> str:
        """Return packs and material."""
        return f"{self.packs} x {self.material}"


class OrderEvent(Owned):
    """What happened to an order: append-only; the order's state is the fold of its events."""

    order = models.ForeignKey(PurchaseOrder, on_delete=models.PROTECT, related_name="events")
    kind = models.CharField(max_length=16)
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+", null=True, blank=True)
    note = models.CharField(max_length=200, blank=True, default="")

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["order", "kind"], name="order_event_once"),
            one_of(
                "kind",
                ["issued", "acknowledged", "part delivered", "closed", "cancelled", "changed"],
                name="order_event_kind",
            ),
        ]

    def __str__(self) -> str:
        """Return the kind."""
        return self.kind


class Coverage(Owned):
    """How much of one opening's demand for one material an order line covers, in the base unit.

    Without a line, stock or an open delivery covers it: a promise that holds as long as they do. `pieces`
    count what is cut by length in nanometres. `round` counts the times that this demand was covered: 1 at
    first, more where stock gave a part or a window grew after issue. The unique index is what keeps two
    managers from ordering the same demand.
    """

    line = models.ForeignKey(
        OrderLine, on_delete=models.CASCADE, related_name="covers", null=True, blank=True
    )
    opening = models.ForeignKey(Opening, on_delete=models.PROTECT, related_name="+")
    material = models.CharField(max_length=64)
    round = models.PositiveSmallIntegerField(default=1)
    quantity = models.BigIntegerField()
    pieces = models.JSONField(default=dict, blank=True)
    live = models.BooleanField(default=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["opening", "material", "round"], condition=Q(live=True), name="demand_ordered_once"
            ),
            models.CheckConstraint(condition=Q(quantity__gt=0), name="coverage_quantity"),
        ]

    def __str__(self) -> str:
        """Return material and round."""
        return f"{self.material}, round {self.round}"
