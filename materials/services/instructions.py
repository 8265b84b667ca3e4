"""Makers' instruction sheets: attached with their date, superseded by a newer one, withdrawn, put back."""

from __future__ import annotations

import hashlib
import secrets
from datetime import date

from django.db import transaction
from django.utils import timezone

from materials.catalogue.load import load_catalogue
from materials.compatibility.exposure import LONGEST_LIMIT
from materials.models import InstructionSheet, SheetAge
from materials.models.compatibility import LONGEST_AGE
from materials.selectors.instructions import EXPOSED, sheet_age
from materials.selectors.orders import local_today
from projects import job_files
from projects.actors import Actor
from projects.errors import BadValue
from projects.rights import Action, require
from projects.services.writing import change, created, hold, hold_company, record
from projects.texts import clean_text

LARGEST_BYTES = 10 * 1024 * 1024
BEGINS, ENDS, TAIL = b"%PDF-", b"%%EOF", 1024
_SHOWN = ("material", "title", "dated", "exposure_days")


@transaction.atomic
def add_sheet(
    *,
    by: Actor,
    material: str,
    title: str,
    dated: date,
    content: bytes,
    exposure_days: int | None = None,
) -> InstructionSheet:
    """Return the sheet, kept under a name drawn by lot; the same file with the same date is kept once.

    Raises BadValue for an unknown material, a date to come, a file that is no PDF, is too large or is there
    under another title or limit, and for an exposure limit of what is no membrane.
    """
    require(by, Action.KEEP_INSTRUCTIONS)
    key = load_catalogue().material(material).key
    told = clean_text(title, field="title", what="Title", longest=160)
    _refuse_date(dated, local_today(by.company))
    _refuse_exposure(key, exposure_days)
    hashed = _hash_of(content)
    hold_company(by)
    there = _same(by, key, dated, hashed)
    if there is not None:
        if (there.title, there.exposure_days) == (told, exposure_days):
            return there
        raise _attached(there)
    row = InstructionSheet.objects.create(
        company=by.company,
        material=key,
        title=told,
        dated=dated,
        exposure_days=exposure_days,
        file_path=f"{job_files.INSTRUCTIONS}/{by.company.pk}/{secrets.token_hex(16)}.pdf",
        content_hash=hashed,
        size_bytes=len(content),
        added_at=timezone.now(),
        added_by=by.user,
    )
    job_files.keep(content, path=row.file_path, claim=secrets.token_hex(8))
    return created(row, by=by, action="add instruction sheet", shown=_SHOWN)


@transaction.atomic
def withdraw_sheet(*, by: Actor, sheet: InstructionSheet) -> InstructionSheet:
    """Return the sheet, no longer in force: it was the wrong file or date. It stays in the list."""
    require(by, Action.KEEP_INSTRUCTIONS, sheet)
    held = hold(sheet)
    if held.withdrawn_at is None:
        change(held, by=by, action="withdraw instruction sheet", values={"withdrawn_at": timezone.now()})
    return held


@transaction.atomic
def restore_sheet(*, by: Actor, sheet: InstructionSheet) -> InstructionSheet:
    """Return the sheet, put back. Raises BadValue where the same file was attached again meanwhile."""
    require(by, Action.KEEP_INSTRUCTIONS, sheet)
    hold_company(by)
    held = hold(sheet)
    there = _same(by, held.material, held.dated, held.content_hash)
    if there is not None and there.pk != held.pk:
        raise _attached(there)
    return change(held, by=by, action="restore instruction sheet", values={"withdrawn_at": None})


@transaction.atomic
def set_sheet_age(*, by: Actor, months: int, version: int | None = None) -> SheetAge:
    """Return after how many months the company is told that a sheet is old. Raises BadValue, StaleVersion."""
    require(by, Action.KEEP_INSTRUCTIONS)
    if not 1 <= months <= LONGEST_AGE:
        raise BadValue(
            problem=f"{months} months can't be the age of an old sheet.",
            remedy=f"Use 1 to {LONGEST_AGE}.",
            field="months",
        )
    hold_company(by)
    row = sheet_age(by.company)
    if row.pk is None:
        row.months = months
        row.save()
        record(by=by, action="set sheet age", subject=row, after={"months": months})
        return row
    return change(hold(row, version=version), by=by, action="set sheet age", values={"months": months})


def _same(by: Actor, material: str, dated: date, hashed: str) -> InstructionSheet | None:
    rows = InstructionSheet.objects.of(by.company).filter(material=material, dated=dated, withdrawn_at=None)
    return rows.filter(content_hash=hashed).first()


def _attached(sheet: InstructionSheet) -> BadValue:
    return BadValue(
        problem=f"This file is attached already as {sheet.title}.",
        remedy="Withdraw that one first, then attach it anew.",
        field="file",
    )


def _refuse_date(dated: date, today: date) -> None:
    if dated > today:
        raise BadValue(
            problem=f"{dated.isoformat()} is still to come.",
            remedy="Give the date that is printed on the sheet.",
            field="dated",
        )


def _refuse_exposure(material: str, days: int | None) -> None:
    if days is None:
        return
    if load_catalogue().material(material).meets not in EXPOSED:
        raise BadValue(
            problem="Only a membrane has an exposure limit.",
            remedy="Leave the days empty, or choose the membrane.",
            field="exposure_days",
        )
    if not 1 <= days <= LONGEST_LIMIT:
        raise BadValue(
            problem=f"{days} days can't be an exposure limit.",
            remedy=f"Use 1 to {LONGEST_LIMIT}, as the sheet says.",
            field="exposure_days",
        )


def _hash_of(content: bytes) -> str:
    """Return a SHA-256 of a PDF. Raises BadValue for anything else, and for what is too large."""
    if len(content) > LARGEST_BYTES:
        raise BadValue(
            problem="The file is larger than 10 MB.", remedy="Save the sheet's pages alone.", field="file"
        )
    # what a file is called and claims to be proves nothing: a PDF begins and ends like one
    if not content.startswith(BEGINS) or ENDS not in content[-TAIL:]:
        raise BadValue(
            problem="This is no whole PDF.", remedy="Save or scan the sheet as a PDF.", field="file"
        )
    return hashlib.sha256(content).hexdigest()
