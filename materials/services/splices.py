"""Allowing strips of a material to be spliced, and taking it back."""

from __future__ import annotations

from django.db import transaction

from materials.catalogue.load import load_catalogue
from materials.models import SpliceRule
from materials.models.splice import LEAST_LAP_NM
from projects.actors import Actor
from projects.errors import BadValue
from projects.quantities.length import Length
from projects.quantities.text import format_rounded
from projects.rights import Action, require
from projects.services.writing import change, created, hold, record


@transaction.atomic
def allow_splices(*, by: Actor, material: str, lap: Length) -> SpliceRule:
    """Return the rule that a strip of the material may be made of two that overlap by `lap`.

    Raises BadValue for a material that is not cut, and for a lap below 4 in.
    """
    require(by, Action.EDIT_SPECIFICATION)
    of = load_catalogue().material(material)
    if of.unit != "length":
        raise BadValue(
            problem=f"{of.name} is not cut to length.", remedy="Choose a material on rolls.", field="material"
        )
    if lap.nm < LEAST_LAP_NM:
        raise BadValue(
            problem=f"A lap of {format_rounded(lap)} is too short.", remedy="Give 4 in or more.", field="lap"
        )
    row, is_new = SpliceRule.objects.get_or_create(
        company=by.company, material=material, defaults={"lap_nm": lap.nm}
    )
    if is_new:
        return created(row, by=by, action="allow splices", shown=("material", "lap_nm"))
    return change(hold(row), by=by, action="allow splices", values={"lap_nm": lap.nm})


@transaction.atomic
def forbid_splices(*, by: Actor, rule: SpliceRule) -> None:
    """Take a rule away: strips of its material are cut in one piece again. Lists that are made stay."""
    require(by, Action.EDIT_SPECIFICATION, rule)
    held = hold(rule)
    record(
        by=by,
        action="forbid splices",
        subject=held,
        before={"material": held.material, "lap_nm": held.lap_nm},
    )
    held.delete()
