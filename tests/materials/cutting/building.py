"""Rolls and offcuts of membrane in the shop, and cut lists told in inches."""

from __future__ import annotations

from materials import services
from materials.models import CutList, CutRoll, Lot
from projects.quantities.length import Length
from tests.materials.stock.building import key

INCH = Length.inches(1).nm


def offcut(by, inches, *, material="membrane-9in", name="o-1") -> Lot:
    return services.add_offcut(
        by=by, material=material, name=name, length_nm=Length.inches(inches).nm, key=key()
    )


def rolls(by, number, *, material="membrane-9in", lot="M9-1", last_good=None) -> Lot:
    """Return a lot of so many rolls of 50 ft."""
    return services.add_stock(
        by=by,
        material=material,
        pack="roll-50ft",
        packs=number,
        number=lot,
        last_good=last_good,
        key=key(),
    )


def told(cut_list: CutList, material="membrane-9in") -> list[tuple[str, list[float], float]]:
    """Return a material's rolls in order: where each comes from, its strips' inches, the inches left."""
    rows = CutRoll.objects.filter(cut_list=cut_list, material=material).order_by("position")
    return [
        (
            (row.lot.number if row.lot else "to come"),
            [strip["length"] / INCH for strip in row.strips],
            row.left_nm / INCH,
        )
        for row in rows.select_related("lot")
    ]
