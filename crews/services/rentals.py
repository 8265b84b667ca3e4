"""What a day of a ladder or a lift costs the company."""

from __future__ import annotations

from collections.abc import Mapping

from django.db import transaction

from crews.models import Rental
from crews.selectors.costs import SET_RENTAL
from projects.actors import Actor
from projects.errors import BadValue
from projects.models import Access
from projects.quantities.money import Money
from projects.rights import Action, require
from projects.services.writing import change, created, hold_company, refuse_stale
from projects.texts import clean_text

RENTED = (Access.LADDER, Access.LIFT)
HIGHEST_RENT_CENTS = 1_000_000


@transaction.atomic
def set_rentals(
    *, by: Actor, version: int | None, per_day: Mapping[str, Money], source: str
) -> tuple[Rental, ...]:
    """Return the rents of a day by access, all from one source. Raises BadValue, and then none is set.

    Raises StaleVersion where one of the company's rents was set since `version`.
    """
    require(by, Action.SEE_COSTS)
    hold_company(by)
    rows = list(Rental.objects.of(by.company))
    refuse_stale(rows, by=by, action=SET_RENTAL, version=version, what="the rents")
    return tuple(
        set_rental(by=by, access=access, per_day=amount, source=source) for access, amount in per_day.items()
    )


@transaction.atomic
def set_rental(*, by: Actor, access: str, per_day: Money, source: str, grade: str = "E") -> Rental:
    """Return the rent of a ladder or lift for a day. Raises BadValue for another access or amount."""
    require(by, Action.SEE_COSTS)
    if access not in RENTED or not 0 <= per_day.cents <= HIGHEST_RENT_CENTS:
        raise BadValue(
            problem=f"A rent of {per_day.as_text} a day for {access} can't be.",
            remedy=f"Give 0 to {Money(HIGHEST_RENT_CENTS).as_text} for a ladder or a lift.",
            field=access,
        )
    values = {
        "cents_per_day": per_day.cents,
        "grade": grade,
        "source": clean_text(source, field="source", what="Source", longest=200),
    }
    rental, is_new = Rental.objects.select_for_update().get_or_create(
        company=by.company, access=access, defaults=values
    )
    if is_new:
        return created(rental, by=by, action=SET_RENTAL, shown=("access", "cents_per_day", "source"))
    return change(rental, by=by, action=SET_RENTAL, values=values)
