"""Making a cut list, and writing down which of its rolls was cut and what was left."""

from __future__ import annotations

import time
from datetime import date

from django.db import transaction
from django.utils import timezone

from materials.catalogue.load import load_catalogue
from materials.cutlist.rolls import RollToCut, lay_out
from materials.errors import NotIssued, NotThereYet
from materials.models import CutList, CutRoll, Lot, PurchaseOrder
from materials.selectors.cutting import (
    InStock,
    kept,
    sources_of,
    sources_of_order,
    stock_to_cut,
    strips_to_cut,
)
from materials.selectors.orders import local_today
from materials.selectors.prices import market_today
from materials.selectors.splices import laps_of
from materials.services.ledger import Step, book, new_lot
from projects import jobs
from projects.actors import Actor
from projects.errors import BadValue
from projects.models import House, Job
from projects.printing import printed_hash
from projects.quantities.length import Length
from projects.quantities.text import format_feet
from projects.rights import Action, require
from projects.services.writing import hold, hold_company, record

SECONDS = 2.0
LIST_KIND = "cut-list-pdf"
LABELS_KIND = "cut-labels-pdf"


@transaction.atomic
def make_cut_list(
    *, by: Actor, house: House | None = None, day: date | None = None, order: PurchaseOrder | None = None
) -> CutList:
    """Return the cut list of a house, of the elevations needed on `day`, or of an issued order's own rolls.

    Made anew it keeps the rolls that were cut and lays out what is left to cut. Raises NotIssued.
    """
    require(by, Action.USE_STOCK, *(row for row in (house, order) if row))
    if order is not None and order.number is None:
        raise NotIssued
    hold_company(by)
    row = CutList.objects.of(by.company).filter(house=house, day=day, order=order).first()
    if row is None:
        row = CutList(company=by.company, house=house, day=day, order=order)
    else:
        row.version += 1
        row.rolls.filter(cut_at__isnull=True).delete()
    row.made_at, row.made_by, row.problems = timezone.now(), by.user, []
    row.save()
    _lay_out(row)
    record(by=by, action="make cut list", subject=row, after={"rolls": row.rolls.count()})
    return row


@transaction.atomic
def cut_roll(*, by: Actor, roll: CutRoll, kept_nm: int) -> CutRoll:
    """Return the roll, cut: it leaves its lot, and what is left, `kept_nm` long, becomes an offcut in stock.

    0 keeps nothing. Sent twice it is cut once. Raises NotThereYet for a roll that is still to come,
    BadValue where more is kept than is left, NotEnough where somebody used the roll.
    """
    require(by, Action.RECORD_WORK, roll)
    held = hold(roll)
    if held.cut_at is not None:
        return held
    if held.lot is None or held.place is None:
        raise NotThereYet
    if not 0 <= kept_nm <= held.left_nm:
        raise BadValue(
            problem=f"{format_feet(Length(kept_nm))} can't be left of this roll.",
            remedy=f"Give at most {format_feet(Length(held.left_nm))}, or nothing where nothing is kept.",
            field="kept",
        )
    lot = hold(held.lot)
    key, reason = f"cut-roll-{held.pk}", f"{held.cut_list}, roll {held.position}"[:200]
    book(by, [Step(lot, held.place, "use", -lot.piece_size)], key=key, reason=reason)
    if kept_nm:
        held.offcut = _offcut(by, lot, kept_nm)
        book(by, [Step(held.offcut, held.place, "count", kept_nm)], key=f"{key}-rest", reason=reason)
    held.cut_at, held.cut_by = timezone.now(), by.user
    held.save(update_fields=["cut_at", "cut_by", "offcut"])
    record(by=by, action="cut roll", subject=held, after={"kept_nm": kept_nm})
    return held


def request_papers(*, by: Actor, cut_list: CutList) -> tuple[Job, Job]:
    """Return the jobs that draw the list and its labels: new ones, or those that did or do it."""
    require(by, Action.SEE_STOCK, cut_list)
    drawn, stuck = (
        jobs.enqueue(by=by, kind=kind, arguments={"cut_list": cut_list.pk}, input_hash=papers_hash(cut_list))
        for kind in (LIST_KIND, LABELS_KIND)
    )
    return drawn, stuck


def papers_hash(cut_list: CutList) -> str:
    """Return what both papers are drawn from: the list as it was last made."""
    return printed_hash(cut_list.company, f"{cut_list.pk}:{cut_list.version}")


def _lay_out(row: CutList) -> None:
    market, today = market_today(row.company), local_today(row.company)
    wanted, heaps, laps = strips_to_cut(row), stock_to_cut(row, today), laps_of(row.company)
    last = row.rolls.order_by("position").last()
    position = last.position if last else 0
    rolls: list[CutRoll] = []
    for material in load_catalogue().materials:
        if material not in wanted:
            continue
        there = heaps.get(material, [])
        if row.order_id:
            sources = sources_of_order(row, material, there)
        else:
            sources = sources_of(material, there, market)
        lap = laps.get(material, 0)
        laid = lay_out(wanted[material], sources, seconds=SECONDS, clock=time.monotonic, lap=lap)
        row.problems += [
            {"material": material, "problem": problem.problem, "remedy": problem.remedy}
            for problem in laid.problems
        ]
        by_name = {heap.name: heap for heap in there}
        for roll in laid.rolls:
            position += 1
            rolls.append(_row(row, roll, by_name.get(roll.source.name), material, position))
    CutRoll.objects.bulk_create(rolls)
    row.save(update_fields=["problems"])


def _row(row: CutList, roll: RollToCut, heap: InStock | None, material: str, position: int) -> CutRoll:
    return CutRoll(
        company=row.company,
        cut_list=row,
        position=position,
        material=material,
        pack=heap.lot.pack if heap else roll.source.name,
        length_nm=roll.source.length,
        lot=heap.lot if heap else None,
        place=heap.place if heap else None,
        strips=[kept(strip) for strip in roll.strips],
        left_nm=roll.left,
    )


def _offcut(by: Actor, lot: Lot, length_nm: int) -> Lot:
    return new_lot(
        by,
        material=lot.material,
        pack="",
        piece_size=length_nm,
        number=lot.number,
        last_good=lot.last_good,
    )
