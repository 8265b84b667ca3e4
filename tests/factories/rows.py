"""A lawful row of any table that hangs below a company, for tests that must hold of every table."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from itertools import count
from typing import Any

from django.db import models

from materials.models import (
    CutList,
    CutRoll,
    Delivery,
    DeliveryLine,
    Lot,
    Movement,
    OrderEvent,
    OrderLine,
    PairTaken,
    Place,
    PurchaseOrder,
    SentOrder,
    SpliceRule,
    UsedKinds,
)
from materials.models.splice import LEAST_LAP_NM
from openings.models import Opening, ScheduleImport, WindowEntry, WindowPhoto, WindowRecord
from projects.models import AuditEntry, Company, Elevation, House, Job, Membership, Owned, Project, User
from tests.factories.houses import ElevationFactory, HouseFactory, ProjectFactory
from tests.factories.openings import OpeningFactory, ScheduleFactory
from tests.factories.orders import DraftFactory
from tests.factories.people import MembershipFactory, UserFactory

DAY = dt.date(2026, 6, 8)
NOON = dt.datetime(2026, 6, 8, 12, tzinfo=dt.UTC)
_numbers = count(1)


def _order_event(company: Company) -> OrderEvent:
    order = DraftFactory(company=company)
    # an event happens to an issued order alone
    PurchaseOrder.objects.of(company).filter(pk=order.pk).update(
        number=f"2026-{next(_numbers):03d}", issued_at=NOON, content_hash="0" * 64
    )
    return OrderEvent.objects.create(company=company, order=order, kind="issued", at=NOON)


def _delivery(company: Company) -> Delivery:
    order = _order_event(company).order
    told = {"key": f"form-{next(_numbers)}", "body_hash": "0" * 64}
    return Delivery.objects.create(company=company, order=order, at=NOON, **told)


def _delivery_line(company: Company) -> DeliveryLine:
    delivery, lot = _delivery(company), a_row(Lot, company)
    line = delivery.order.lines.get()
    return DeliveryLine.objects.create(company=company, delivery=delivery, line=line, lot=lot, good=1)


def _sent_order(company: Company) -> SentOrder:
    order, job = _order_event(company).order, a_row(Job, company)
    told = {"to": "orders@thistle.example", "subject": "Order", "text": "Order", "by_server": True}
    return SentOrder.objects.create(company=company, order=order, job=job, at=NOON, **told)


def _place(company: Company) -> Place:
    house = HouseFactory(project__company=company)
    return Place.objects.create(company=company, kind="house", name=f"R-{next(_numbers)}", house=house)


def _movement(company: Company, lot: Lot | None = None) -> Movement:
    lot, place = lot or a_row(Lot, company), a_row(Place, company)
    told = {"kind": "count", "quantity": 1, "balance": 1, "number": 1, "key": f"form-{next(_numbers)}/1"}
    return Movement.objects.create(company=company, lot=lot, place=place, at=NOON, **told)


def _cut_list(company: Company) -> CutList:
    house = HouseFactory(project__company=company)
    return CutList.objects.create(company=company, house=house, made_at=NOON)


def _cut_roll(company: Company) -> CutRoll:
    lot = Lot.objects.create(company=company, material="membrane-9in", piece_size=1)
    movement = _movement(company, lot)
    strip = {"opening": 1, "house": "LOT-1", "mark": "W1", "part": "pan", "zone": "sill", "length": 1}
    return CutRoll.objects.create(
        company=company,
        cut_list=_cut_list(company),
        position=1,
        material=lot.material,
        lot=lot,
        place=movement.place,
        length_nm=1,
        left_nm=0,
        strips=[strip],
    )


def _used_kinds(company: Company) -> UsedKinds:
    project = ProjectFactory(company=company)
    return UsedKinds.objects.create(company=company, project=project, kinds={"silicone": 1})


def _pair_taken(company: Company) -> PairTaken:
    used = _used_kinds(company)
    told = {"one": "silicone", "other": "butyl-membrane", "answer": "no", "version": 1}
    named = {"person": "Wren Idle", "reason": "the maker's letter", "at": NOON}
    return PairTaken.objects.create(company=company, project=used.project, used=used, **told, **named)


def _audit_entry(company: Company) -> AuditEntry:
    told = {"actor": "Dana Whitlow", "action": "edit", "subject_kind": "projects.project"}
    return AuditEntry.objects.create(company=company, at=NOON, subject_id=1, subject_name="Alder Row", **told)


def _window_entry(company: Company) -> WindowEntry:
    house = HouseFactory(project__company=company)
    told = {"key": f"form-{next(_numbers)}", "body_hash": "0" * 64}
    return WindowEntry.objects.create(company=company, house=house, at=NOON, **told)


def window_record(company: Company, kind: str = "counted", **told: Any) -> WindowRecord:
    """Return the first record of a new opening's window: counted as scheduled, unless told otherwise."""
    entry = _window_entry(company)
    opening = OpeningFactory(house=entry.house)
    told = told or {"width_nm": opening.unit_width_nm, "height_nm": opening.unit_height_nm}
    return WindowRecord.objects.create(
        company=company, entry=entry, opening=opening, number=1, kind=kind, **told
    )


def _window_taken_back(company: Company) -> WindowRecord:
    first = window_record(company)
    return WindowRecord.objects.create(
        company=company,
        entry=first.entry,
        opening=first.opening,
        number=2,
        kind="taken back",
        takes_back=first,
    )


def _window_photo(company: Company) -> WindowPhoto:
    record = window_record(company, "damaged", note="cracked", claim_by=DAY)
    return WindowPhoto.objects.create(
        company=company,
        record=record,
        file_name=f"{next(_numbers):032x}.jpg",
        content=b"\xff\xd8\xff",
        width_px=100,
        height_px=100,
    )


MAKERS: dict[type[Owned], Callable[[Company], Any]] = {
    Project: lambda company: ProjectFactory(company=company),
    House: lambda company: HouseFactory(project__company=company),
    Elevation: lambda company: ElevationFactory(house__project__company=company),
    Membership: lambda company: MembershipFactory(company=company),
    Opening: lambda company: OpeningFactory(house__project__company=company),
    WindowEntry: _window_entry,
    WindowRecord: _window_taken_back,
    WindowPhoto: _window_photo,
    ScheduleImport: lambda company: ScheduleFactory(house__project__company=company),
    PurchaseOrder: lambda company: DraftFactory(company=company),
    OrderLine: lambda company: DraftFactory(company=company).lines.get(),
    OrderEvent: _order_event,
    SentOrder: _sent_order,
    Delivery: _delivery,
    DeliveryLine: _delivery_line,
    Place: _place,
    Movement: _movement,
    CutList: _cut_list,
    CutRoll: _cut_roll,
    SpliceRule: lambda company: SpliceRule.objects.create(
        company=company, material=f"thing-{next(_numbers)}", lap_nm=LEAST_LAP_NM
    ),
    UsedKinds: _used_kinds,
    PairTaken: _pair_taken,
    AuditEntry: _audit_entry,
    Job: lambda company: Job.objects.create(
        company=company, kind="test", input_hash=f"{next(_numbers):064d}"
    ),
}


PLAIN: dict[type[models.Field[Any, Any]], Any] = {
    models.DateTimeField: NOON,
    models.DateField: DAY,
    models.JSONField: dict,
    models.CharField: lambda: f"thing-{next(_numbers)}",
    models.TextField: lambda: f"thing-{next(_numbers)}",
}


def a_row(model: type[Owned], company: Company) -> Any:
    """Return a new row of `model` in `company`; a table without a maker is filled by its columns."""
    if model in MAKERS:
        return MAKERS[model](company)
    filled = {
        field.name: _value(field, company)
        for field in model._meta.concrete_fields
        if field.name not in {"id", "company"} and not field.has_default() and not field.null
    }
    return model._default_manager.create(company=company, **filled)


def _value(field: models.Field[Any, Any], company: Company) -> Any:
    if isinstance(field, models.ForeignKey):
        target = field.related_model
        return UserFactory() if target is User else a_row(target, company)
    if field.choices:
        return list(field.choices)[-1][0]
    # DateTimeField is a DateField, so it is looked for first
    for kind, value in PLAIN.items():
        if isinstance(field, kind):
            return value() if callable(value) else value
    return 1
