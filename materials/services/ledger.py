"""The one place that writes lines of the ledger; every other service says what happened and why."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from django.db.models import Sum
from django.utils import timezone

from materials.catalogue.load import load_catalogue
from materials.errors import BadPieces, NotEnough, OtherLines
from materials.models import Lot, Movement, OrderLine, Place
from projects.actors import Actor
from projects.errors import BadValue
from projects.models import House
from projects.texts import clean_text

SHOP = "shop"
TRUCK = "truck"
HOUSE = "house"


@dataclass(frozen=True, slots=True)
class Step:
    """One line to write: `quantity` in base units, below 0 where it leaves `place`."""

    lot: Lot
    place: Place
    kind: str
    quantity: int


def shop_of(by: Actor) -> Place:
    """Return the company's shop, made at its first use."""
    return _place(by, kind=SHOP, name=SHOP, house=None)


def truck_of(by: Actor, code: str) -> Place:
    """Return the truck of the crew with `code`."""
    return _place(by, kind=TRUCK, name=code, house=None)


def house_of(by: Actor, house: House) -> Place:
    """Return the house as a place where material lies."""
    place, _ = Place.objects.of(by.company).get_or_create(
        house=house, defaults={"company": by.company, "kind": HOUSE, "name": house.code}
    )
    return place


def there(lot: Lot, place: Place) -> int:
    """Return how much of a lot lies at a place: the sum of its movements."""
    rows = Movement.objects.of(lot.company).filter(lot=lot, place=place)
    return rows.aggregate(total=Sum("quantity"))["total"] or 0


def new_lot(
    by: Actor,
    *,
    material: str,
    pack: str,
    piece_size: int,
    number: str,
    last_good: date | None,
    line: OrderLine | None = None,
) -> Lot:
    """Return a lot with nothing in it yet. Raises BadValue for an unknown material."""
    load_catalogue().material(material)
    return Lot.objects.create(
        company=by.company,
        material=material,
        pack=pack,
        piece_size=piece_size,
        number=clean_text(number, field="number", what="Lot number", longest=64, required=False),
        last_good=last_good,
        line=line,
    )


def book(by: Actor, steps: Iterable[Step], *, key: str, reason: str = "") -> list[Movement]:
    """Write the lines of one form, whose lots are locked by now, and return them.

    Raises NotEnough where more would leave a place than lies there.
    """
    now = timezone.now()
    told = clean_text(reason, field="reason", what="Reason", longest=200, required=False)
    return [
        _line(by, step, key=f"{key}/{place}", reason=told, now=now) for place, step in enumerate(steps, 1)
    ]


def replayed(by: Actor, key: str, steps: Iterable[Step]) -> list[Movement]:
    """Return the lines that the same form wrote before, none where it is new.

    Raises OtherLines where it was sent with something else.
    """
    if not key or "/" in key:
        raise BadValue(problem="The form has no key of its own.", remedy="Reload the page and send it again.")
    first = Movement.objects.of(by.company).filter(key=f"{key}/1").first()
    if first is None:
        return []
    rows = list(Movement.objects.of(by.company).filter(key__startswith=f"{key}/", at=first.at))
    told = {(row.lot_id, row.place_id, row.kind, row.quantity) for row in rows}
    if told != {(step.lot.pk, step.place.pk, step.kind, step.quantity) for step in steps}:
        raise OtherLines
    return rows


def whole(what: object, pieces: int, *, least: int = 1) -> int:
    """Return `pieces`. Raises BadPieces below `least`."""
    if pieces < least:
        raise BadPieces(what=str(what), pieces=pieces, least=least, field="pieces")
    return pieces


def _line(by: Actor, step: Step, *, key: str, reason: str, now: datetime) -> Movement:
    before = (
        Movement.objects.of(by.company).filter(lot=step.lot, place=step.place).order_by("-number").first()
    )
    had = before.balance if before else 0
    if had + step.quantity < 0:
        raise NotEnough(what=str(step.lot), there=had // step.lot.piece_size, field="pieces")
    return Movement.objects.create(
        company=by.company,
        lot=step.lot,
        place=step.place,
        number=before.number + 1 if before else 1,
        kind=step.kind,
        quantity=step.quantity,
        balance=had + step.quantity,
        reason=reason,
        at=now,
        by=by.user,
        key=key,
    )


def _place(by: Actor, *, kind: str, name: str, house: House | None) -> Place:
    place, _ = Place.objects.of(by.company).get_or_create(
        kind=kind, name=name, defaults={"company": by.company, "house": house}
    )
    return place
