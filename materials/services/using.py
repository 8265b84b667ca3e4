"""What a crew used at a house: taken from there, its truck or the shop, and used up where it was built in.

Whatever is used passes through the house's own place, so that the ledger answers for each house what came
to it, what was used, what lies there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from materials.catalogue.load import load_catalogue
from materials.errors import NotEnough, OtherLines
from materials.models import Lot, Movement, Place
from materials.selectors.houses import Kind, used_pieces
from materials.selectors.orders import local_today
from materials.services.ledger import Step, book, house_of, shop_of, there, truck_of, whole
from projects.actors import Actor
from projects.errors import BadValue
from projects.models import House
from projects.rights import Action, require
from projects.services.writing import record


@dataclass(frozen=True, slots=True)
class Used:
    """So many pieces of one kind."""

    material: str
    piece_size: int
    pieces: int


@transaction.atomic
def use_at_house(
    *, by: Actor, house: House, truck: str, used: Sequence[Used], key: str, reason: str = ""
) -> list[Movement]:
    """Return the ledger's lines by which `used` was used up at the house.

    It is taken where it lies: at the house, then on the truck of the crew with that code, then in the shop,
    the first to expire first; what is past its last good day is not touched. Sent twice it counts once.
    Raises NotEnough, BadPieces, OtherLines for the same key with something else.
    """
    require(by, Action.USE_STOCK, house)
    wanted = Counter[Kind]()
    for each in used:
        name = load_catalogue().material(each.material).name
        wanted[each.material, each.piece_size] += whole(name, each.pieces)
    if not wanted:
        raise BadValue(problem="Nothing is entered.", remedy="Write how many pieces were used.")
    # locked in their order, whatever the form's order is
    materials = sorted({material for material, _ in wanted})
    lots = list(Lot.objects.of(by.company).filter(material__in=materials).select_for_update().order_by("pk"))
    done = list(Movement.objects.of(by.company).filter(key__startswith=f"{key}/").select_related("lot"))
    if done:
        if used_pieces(done) != wanted:
            raise OtherLines
        return done
    here = house_of(by, house)
    places = (here, truck_of(by, truck), shop_of(by))
    today = local_today(by.company)
    good = [lot for lot in lots if lot.last_good is None or lot.last_good >= today]
    good.sort(key=lambda lot: (lot.last_good or date.max, lot.pk))
    steps = [
        step for kind, pieces in sorted(wanted.items()) for step in _steps(kind, pieces, good, places, here)
    ]
    lines = book(by, steps, key=key, reason=reason)
    told = {"house": house.code, "pieces": {kind[0]: pieces for kind, pieces in sorted(wanted.items())}}
    record(by=by, action="use at house", subject=house, after=told)
    return lines


def _steps(
    kind: Kind, pieces: int, lots: Sequence[Lot], places: Sequence[Place], here: Place
) -> Iterator[Step]:
    """Yield the lines for one kind: moved to the house where it lies elsewhere, then used there."""
    left = pieces
    for place in places:
        for lot in lots:
            if (lot.material, lot.piece_size) != kind or not left:
                continue
            taken = min(left, there(lot, place) // lot.piece_size)
            if not taken:
                continue
            left -= taken
            quantity = taken * lot.piece_size
            if place != here:
                yield Step(lot, place, "move", -quantity)
                yield Step(lot, here, "move", quantity)
            yield Step(lot, here, "use", -quantity)
    if left:
        name = load_catalogue().material(kind[0]).name
        raise NotEnough(what=name, there=pieces - left, field=f"pieces-{kind[0]}-{kind[1]}")
