"""What a crew used on its day, booked at the houses where it was built in."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from crews.convert.words import day_told
from crews.models import Crew
from crews.selectors.using import key_of_day
from materials.models import Movement
from materials.services import Used, use_at_house
from projects.actors import Actor
from projects.models import House
from projects.rights import Action, require


def record_use(
    *, by: Actor, crew: Crew, day: date, house: House, used: Sequence[Used], key: str
) -> list[Movement]:
    """Return the ledger's lines of what the crew used at the house on `day`. Raises as `use_at_house`."""
    require(by, Action.USE_STOCK, crew, house)
    return use_at_house(
        by=by,
        house=house,
        truck=crew.code,
        used=used,
        key=f"{key_of_day(crew, day, house)}{key}",
        reason=f"{crew.code}, {day_told(day)}",
    )
