"""What must hold of stock and deliveries: lines add up, what came is there, orders say so."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

from django.db.models import Sum

from config.invariants.report import Search, searched
from materials.models import CutRoll, Delivery, DeliveryLine, Lot, Movement, PurchaseOrder
from materials.services.stock import LEAVES
from projects.models import Company


def adds_up(company: Company) -> Search:
    """I4: what lies at a place is the sum of its lines, in whole pieces, at no line below nothing."""
    rows = Movement.objects.of(company).order_by("lot", "place", "number").select_related("lot", "place")
    return searched(
        (f"{lines[0].lot} in {lines[0].place}", _of(lines[0].lot, lines))
        for lines in (list(group) for _, group in groupby(rows, key=lambda row: (row.lot_id, row.place_id)))
    )


def are_in_stock(company: Company) -> Search:
    """I3, I12: the good packs of each delivery are its lot, whole, and nothing else came with an order."""
    rows = DeliveryLine.objects.of(company).select_related("line", "delivery__order").order_by("pk")
    received = Movement.objects.of(company).filter(kind="receive").order_by().values("lot")
    came: dict[int, int] = dict(received.annotate(total=Sum("quantity")).values_list("lot", "total"))
    told = {row.lot_id for row in rows}
    return searched(
        [
            *(
                (f"{row.delivery}, line {row.line.position}", _received(row, came.get(row.lot_id or 0, 0)))
                for row in rows
            ),
            *((f"lot {lot}", ["came with no delivery"]) for lot in sorted(came) if lot not in told),
        ]
    )


def follows_what_came(company: Company) -> Search:
    """I12: an order is closed when every line has come, and part delivered when something has."""
    orders = PurchaseOrder.objects.of(company).filter(number__isnull=False).order_by("pk")
    came: Counter[int] = Counter()
    for row in DeliveryLine.objects.of(company):
        came[row.line_id] += row.good
    delivered = set(Delivery.objects.of(company).values_list("order", flat=True))
    fetched = orders.prefetch_related("lines", "events")
    return searched(
        (f"order {order.number}", _follows(order, came, is_delivered=order.pk in delivered))
        for order in fetched
    )


def nothing_is_lost(company: Company) -> Search:
    """I12: of each lot all that came is there, used, scrapped or sent back; a move keeps the whole.

    So it is at each house, for what is used there came to it before.
    """
    rows = Movement.objects.of(company).order_by("lot", "place", "number").select_related("lot")
    return searched(
        (str(own[0].lot), _kept(own))
        for own in (list(group) for _, group in groupby(rows, key=lambda row: row.lot_id))
    )


def rolls_are_whole(company: Company) -> Search:
    """I12: a roll that was cut is its strips and what was left; the offcut is no longer than that."""
    rolls = CutRoll.objects.of(company).filter(cut_at__isnull=False).select_related("offcut").order_by("pk")
    return searched((f"{roll.cut_list_id}: {roll}", _cut(roll)) for roll in rolls)


def _kept(lines: Sequence[Movement]) -> Iterator[str]:
    came, gone, moved = 0, 0, 0
    there = {line.place_id: line.balance for line in lines}
    for line in lines:
        if line.kind == "move":
            moved += line.quantity
        elif line.kind not in LEAVES:
            came += line.quantity
        else:
            gone -= line.quantity
            if line.quantity > 0:
                yield f"grows at line {line.number} by what is called {line.kind}"
    if moved:
        yield f"is {moved} more after its moves than before"
    if came != gone + sum(there.values()):
        yield f"came to {came}; {gone} went, {sum(there.values())} is there"


def _cut(roll: CutRoll) -> Iterator[str]:
    strips = sum(int(strip["length"]) for strip in roll.strips)
    if strips + roll.left_nm != roll.length_nm:
        yield f"is {roll.length_nm} nm long, its strips {strips} and what is left {roll.left_nm}"
    if roll.offcut and roll.offcut.piece_size > roll.left_nm:
        yield f"left {roll.left_nm} nm, and an offcut of {roll.offcut.piece_size}"


def _received(row: DeliveryLine, quantity: int) -> Iterator[str]:
    if quantity != row.good * row.line.pack_size:
        yield f"brought {row.good} packs, {quantity} of the base unit are in stock"


def _follows(order: PurchaseOrder, came: Counter[int], *, is_delivered: bool) -> Iterator[str]:
    whole = all(came[line.pk] >= line.packs for line in order.lines.all())
    kinds = {event.kind for event in order.events.all()}
    if whole and not kinds & {"closed", "cancelled"}:
        yield "has come whole and is still open"
    if is_delivered and not kinds & {"part delivered", "closed", "cancelled"}:
        yield "has deliveries, and its events say nothing of them"


def _of(lot: Lot, lines: Sequence[Movement]) -> Iterator[str]:
    there = 0
    for number, line in enumerate(lines, 1):
        there += line.quantity
        if line.number != number:
            yield f"has line {line.number} where {number} comes"
        if line.balance != there:
            yield f"says {line.balance} after line {number}, its lines come to {there}"
        if there < 0:
            yield f"falls to {there} at line {number}"
        if line.quantity % lot.piece_size:
            yield f"moves part of a piece at line {number}"
