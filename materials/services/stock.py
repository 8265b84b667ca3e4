"""What happens to stock: found and counted, used, moved, sent back, scrapped; and how much must stay."""

from __future__ import annotations

from datetime import date

from django.db import transaction

from materials.catalogue.counting import counted_in
from materials.catalogue.load import load_catalogue
from materials.models import Lot, MinimumLevel, Movement, Place
from materials.services.ledger import (
    Step,
    book,
    house_of,
    new_lot,
    replayed,
    shop_of,
    there,
    truck_of,
    whole,
)
from projects.actors import Actor
from projects.errors import BadValue
from projects.models import House
from projects.rights import Action, require
from projects.services.writing import change, created, hold, hold_company, record
from projects.texts import clean_text

LEAVES = ("use", "return", "scrap")


@transaction.atomic
def add_stock(
    *,
    by: Actor,
    material: str,
    pack: str,
    packs: int,
    number: str = "",
    last_good: date | None = None,
    key: str,
) -> Lot:
    """Return a lot that was found in the shop: so many whole packs, or loose pieces where `pack` is empty.

    The same `key` again returns the same lot. Raises BadValue for an unknown material or pack, BadPieces.
    """
    require(by, Action.COUNT_STOCK)
    of = load_catalogue().material(material)
    if pack:
        counted, size = counted_in(of.pack(pack))
        pieces = whole(of.name, packs) * (of.pack(pack).contains // size)
    elif of.unit == "pieces":
        counted, size, pieces = "", 1, whole(of.name, packs)
    else:
        raise BadValue(problem=f"{of.name} is not counted loose.", remedy="Choose its pack.", field="pack")
    hold_company(by)
    before = Movement.objects.of(by.company).filter(key=f"{key}/1").select_related("lot").first()
    if before:
        return before.lot
    lot = new_lot(by, material=material, pack=counted, piece_size=size, number=number, last_good=last_good)
    book(by, [Step(lot, shop_of(by), "count", pieces * size)], key=key, reason="found in the shop")
    return created(lot, by=by, action="add stock", shown=("material", "number", "last_good"))


@transaction.atomic
def add_offcut(*, by: Actor, material: str, name: str, length_nm: int, key: str) -> Lot:
    """Return an offcut worth keeping: a lot of one piece. Raises BadValue for what is not cut from rolls."""
    require(by, Action.COUNT_STOCK)
    of = load_catalogue().material(material)
    if of.unit != "length":
        raise BadValue(problem=f"{of.name} leaves no offcuts.", remedy="Choose a material on rolls.")
    hold_company(by)
    before = Movement.objects.of(by.company).filter(key=f"{key}/1").select_related("lot").first()
    if before:
        return before.lot
    lot = new_lot(
        by, material=material, pack="", piece_size=whole(of.name, length_nm), number=name, last_good=None
    )
    book(by, [Step(lot, shop_of(by), "count", length_nm)], key=key, reason="offcut kept")
    return created(lot, by=by, action="add offcut", shown=("material", "number", "piece_size"))


@transaction.atomic
def make_place(*, by: Actor, kind: str, name: str = "", house: House | None = None) -> Place:
    """Return a truck by its crew's code, or a house, as a place; made where it is new."""
    require(by, Action.USE_STOCK, *([house] if house else []))
    if house is not None:
        return house_of(by, house)
    if kind != "truck":
        raise BadValue(problem=f"{kind!r} is no place to make.", remedy="Name a truck or a house.")
    return truck_of(by, clean_text(name, field="truck", what="Truck", longest=64))


@transaction.atomic
def count_lot(
    *, by: Actor, lot: Lot, place: Place, pieces: int, key: str, reason: str = ""
) -> list[Movement]:
    """Return the line that brings a lot to what was counted; none where it is as the ledger says.

    Sent twice it counts once, whatever happened between. Raises BadPieces, NotThere.
    """
    require(by, Action.COUNT_STOCK, lot, place)
    held = hold(lot)
    if Movement.objects.of(by.company).filter(key=f"{key}/1").exists():
        return []
    counted = whole(held, pieces, least=0) * held.piece_size
    missing = counted - there(held, place)
    if not missing:
        return []
    lines = book(by, [Step(held, place, "count", missing)], key=key, reason=reason)
    record(by=by, action="count stock", subject=held, after={"pieces": pieces, "place": str(place)})
    return lines


@transaction.atomic
def correct_lot(*, by: Actor, lot: Lot, place: Place, pieces: int, key: str, reason: str) -> list[Movement]:
    """Return the line that sets a wrong one right by so many pieces, below 0 where too many were written."""
    require(by, Action.COUNT_STOCK, lot, place)
    held = hold(lot)
    steps = [Step(held, place, "correct", pieces * held.piece_size)] if pieces else []
    return _once(by, held, steps, key=key, reason=reason)


@transaction.atomic
def take_from_lot(
    *, by: Actor, lot: Lot, place: Place, kind: str, pieces: int, key: str, reason: str = ""
) -> list[Movement]:
    """Return the line by which pieces leave for good: used, returned to the supplier or scrapped.

    Raises NotEnough, BadPieces, OtherLines.
    """
    right = Action.USE_STOCK if kind == "use" else Action.COUNT_STOCK
    require(by, right, lot, place)
    if kind not in LEAVES:
        raise BadValue(problem=f"{kind!r} takes nothing away.", remedy=f"Use one of: {', '.join(LEAVES)}.")
    held = hold(lot)
    steps = [Step(held, place, kind, -whole(held, pieces) * held.piece_size)]
    return _once(by, held, steps, key=key, reason=reason)


@transaction.atomic
def move_lot(
    *, by: Actor, lot: Lot, place: Place, to: Place, pieces: int, key: str, reason: str = ""
) -> list[Movement]:
    """Return the two lines by which pieces leave one place and come to another."""
    require(by, Action.USE_STOCK, lot, place, to)
    if to == place:
        raise BadValue(problem=f"It lies in {to} already.", remedy="Choose another place.", field="to")
    held = hold(lot)
    quantity = whole(held, pieces) * held.piece_size
    steps = [Step(held, place, "move", -quantity), Step(held, to, "move", quantity)]
    return _once(by, held, steps, key=key, reason=reason)


@transaction.atomic
def set_minimum(*, by: Actor, material: str, quantity: int) -> MinimumLevel | None:
    """Set how much of a material must stay, in base units; 0 takes the level away. Raises BadValue."""
    require(by, Action.COUNT_STOCK)
    of = load_catalogue().material(material)
    hold_company(by)
    row = MinimumLevel.objects.of(by.company).filter(material=material).first()
    if quantity <= 0:
        if row:
            record(by=by, action="take minimum away", subject=row, before={"quantity": row.quantity})
            row.delete()
        return None
    if row:
        return change(row, by=by, action="set minimum", values={"quantity": quantity})
    made = MinimumLevel.objects.create(company=by.company, material=of.key, quantity=quantity)
    return created(made, by=by, action="set minimum", shown=("material", "quantity"))


def _once(by: Actor, lot: Lot, steps: list[Step], *, key: str, reason: str) -> list[Movement]:
    before = replayed(by, key, steps)
    if before or not steps:
        return before
    lines = book(by, steps, key=key, reason=reason)
    pieces = abs(steps[0].quantity) // lot.piece_size
    record(by=by, action=f"{steps[0].kind} stock", subject=lot, after={"pieces": pieces, "reason": reason})
    return lines
