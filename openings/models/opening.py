"""An opening of a house: what its schedule row says, in whole nanometres and the guide's words."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from openings.models.schedule import ScheduleImport
from openings.takeoff.opening import LARGEST, SMALLEST
from projects.models import Elevation, House, Owned
from projects.models.constraints import at_least, one_of, text_between


def _sized(column: str, *, name: str) -> models.CheckConstraint:
    return models.CheckConstraint(
        condition=Q(**{f"{column}__gte": SMALLEST.nm, f"{column}__lte": LARGEST.nm}), name=name
    )


class Opening(Owned):
    """An opening. An empty choice or a null size means: the specification's default holds.

    `removed_at` keeps an opening that left the schedule, for the orders that were made for it.
    """

    house = models.ForeignKey(House, on_delete=models.PROTECT, related_name="openings")
    elevation = models.ForeignKey(Elevation, on_delete=models.PROTECT, related_name="openings")
    mark = models.CharField(max_length=64)
    unit_width_nm = models.BigIntegerField()
    unit_height_nm = models.BigIntegerField()
    ro_width_nm = models.BigIntegerField()
    ro_height_nm = models.BigIntegerField()
    sill_height_nm = models.BigIntegerField(null=True, blank=True)
    offset_nm = models.BigIntegerField(null=True, blank=True)
    wall_depth_nm = models.BigIntegerField(null=True, blank=True)
    fin = models.CharField(max_length=8, blank=True, default="")
    corners = models.CharField(max_length=8, blank=True, default="")
    method = models.CharField(max_length=16, blank=True, default="")
    over_fin = models.CharField(max_length=10, blank=True, default="")
    pan = models.CharField(max_length=10, blank=True, default="")
    mulls = models.PositiveSmallIntegerField(default=0)
    weight_ug = models.BigIntegerField(null=True, blank=True)
    glass_panes = models.PositiveSmallIntegerField(null=True, blank=True)
    glass_thickness_nm = models.BigIntegerField(null=True, blank=True)
    fastener_corner_nm = models.BigIntegerField(null=True, blank=True)
    fastener_max_nm = models.BigIntegerField(null=True, blank=True)
    head_fasteners = models.CharField(max_length=5, blank=True, default="")
    flags = models.JSONField(default=list, blank=True)
    note = models.TextField(blank=True, default="")
    row = models.PositiveIntegerField(null=True, blank=True)
    schedule_import = models.ForeignKey(
        ScheduleImport, on_delete=models.PROTECT, related_name="openings", null=True, blank=True
    )
    removed_at = models.DateTimeField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["house_id", "elevation__walking_order", "row", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["house", "mark"], condition=Q(removed_at__isnull=True), name="opening_mark_once"
            ),
            text_between("mark", shortest=1, longest=64, name="opening_mark_length"),
            _sized("unit_width_nm", name="opening_unit_width"),
            _sized("unit_height_nm", name="opening_unit_height"),
            models.CheckConstraint(
                condition=Q(ro_width_nm__gte=F("unit_width_nm"), ro_height_nm__gte=F("unit_height_nm")),
                name="opening_ro_holds_the_unit",
            ),
            models.CheckConstraint(
                condition=Q(glass_panes__isnull=True, glass_thickness_nm__isnull=True)
                | Q(glass_panes__gte=1, glass_thickness_nm__gt=0),
                name="opening_glass_is_whole",
            ),
            one_of("fin", ["", "fixed", "folding"], name="opening_fin"),
            one_of("corners", ["", "welded", "open"], name="opening_corners"),
            one_of("over_fin", ["", "none", "membrane", "sealed"], name="opening_over_fin"),
            one_of("pan", ["", "membrane", "stretch", "rigid", "none"], name="opening_pan"),
            one_of("head_fasteners", ["", "yes", "no", "loose"], name="opening_head_fasteners"),
            at_least("version", 1, name="opening_version"),
        ]
        # with the version, a house's fingerprint is read from the index alone
        indexes = [
            models.Index(fields=["company", "house", "removed_at", "version"], name="opening_by_house")
        ]

    def __str__(self) -> str:
        """Return the mark."""
        return self.mark
