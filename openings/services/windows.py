"""Windows as they come: counted by mark and size, inspected, damaged, accepted, sent back, taken back.

Each is one entry with one record per window; the house's row is locked meanwhile, so of two people who count
at once the second is told. All or nothing; a form that is sent twice counts once.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.db import transaction

from openings.errors import NotLast, OtherWindows, WindowGone, WindowNotSo
from openings.models import Opening, WindowEntry, WindowPhoto, WindowRecord
from openings.selectors.reading import live_openings
from openings.selectors.windows import happened_to, scheduled_size
from openings.windows.standing import Happened, Kind, Size, fold, may_follow, still_held
from projects.actors import Actor
from projects.errors import Archived, BadValue, NotThere
from projects.models import House
from projects.photos import clean_photo
from projects.rights import Action, require
from projects.selectors import local_today
from projects.services.entries import enter_once
from projects.services.writing import hold, record
from projects.texts import clean_text

MOST_PHOTOS = 4
MAIN_ACTIONS: Mapping[Kind, str] = {
    Kind.COUNTED: "count windows",
    Kind.DAMAGED: "report window damage",
    Kind.ACCEPTED: "accept windows",
    Kind.SENT_BACK: "send window back",
}


@dataclass(frozen=True, slots=True)
class SentPhoto:
    """A photo as it was sent: what its sender called it, and its bytes."""

    name: str
    content: bytes


@dataclass(frozen=True, slots=True)
class _Line:
    """What is to be recorded of one window."""

    size: Size | None = None
    note: str = ""
    claim_by: date | None = None


@transaction.atomic
def count_windows(*, by: Actor, house: House, sizes: Mapping[int, Size], key: str) -> WindowEntry:
    """Return the entry: these openings' windows came, each with the size on its label.

    Raises WindowNotSo where one was counted so already, WindowGone where an opening left the schedule,
    OtherWindows for the same key with others.
    """
    require(by, Action.RECORD_WINDOWS, house)
    body = {str(pk): [size.width.nm, size.height.nm] for pk, size in sizes.items()}
    entry, is_new = _entry(by, house, key, [Kind.COUNTED, body])
    if is_new:
        rows = _rows(by, house, sizes)
        lines = {row.pk: _Line(sizes[row.pk]) for row in rows}
        _record(by, entry, Kind.COUNTED, rows, lines)
    return entry


@transaction.atomic
def accept_windows(*, by: Actor, house: House, openings: Iterable[int], key: str) -> WindowEntry:
    """Return the entry: a person has inspected these windows and takes them.

    Raises WindowNotSo where one is not here in its scheduled size.
    """
    require(by, Action.RECORD_WINDOWS, house)
    chosen = sorted(set(openings))
    entry, is_new = _entry(by, house, key, [Kind.ACCEPTED, chosen])
    if is_new:
        rows = _rows(by, house, chosen)
        _record(by, entry, Kind.ACCEPTED, rows, {row.pk: _Line(scheduled_size(row)) for row in rows})
    return entry


@transaction.atomic
def report_damage(
    *, by: Actor, opening: Opening, what: str, photos: Sequence[SentPhoto] = (), key: str
) -> WindowEntry:
    """Return the entry: what is damaged, with photos, and by when it must be claimed.

    The photos are drawn anew and kept without what was written beside them. Raises PhotoTooLarge or BadValue
    for a photo that is refused.
    """
    require(by, Action.RECORD_WINDOWS, opening)
    note = clean_text(what, field="what", what="What is damaged", longest=200)
    if len(photos) > MOST_PHOTOS:
        raise BadValue(
            problem=f"{len(photos)} photos are too many.", remedy=f"Send {MOST_PHOTOS}.", field="photos"
        )
    clean = [clean_photo(sent.content, name=sent.name, field="photos") for sent in photos]
    hashes = [hashlib.sha256(sent.content).hexdigest() for sent in photos]
    entry, is_new = _entry(by, opening.house, key, [Kind.DAMAGED, opening.pk, note, hashes])
    if is_new:
        claim_by = local_today(by.company) + timedelta(days=by.company.claim_days)
        rows = _rows(by, opening.house, [opening.pk])
        (row,) = _record(by, entry, Kind.DAMAGED, rows, {opening.pk: _Line(note=note, claim_by=claim_by)})
        for photo in clean:
            WindowPhoto.objects.create(
                company=by.company,
                record=row,
                file_name=photo.name,
                content=photo.content,
                width_px=photo.width,
                height_px=photo.height,
            )
    return entry


@transaction.atomic
def send_window_back(*, by: Actor, opening: Opening, why: str, key: str) -> WindowEntry:
    """Return the entry: the window is refused; the one that replaces it is counted anew."""
    require(by, Action.RECORD_WINDOWS, opening)
    note = clean_text(why, field="why", what="Why", longest=200)
    entry, is_new = _entry(by, opening.house, key, [Kind.SENT_BACK, opening.pk, note])
    if is_new:
        rows = _rows(by, opening.house, [opening.pk])
        _record(by, entry, Kind.SENT_BACK, rows, {opening.pk: _Line(note=note)})
    return entry


@transaction.atomic
def take_back(*, by: Actor, entry: WindowEntry) -> WindowEntry:
    """Return the entry that takes another one back, whole: a record follows each of its records.

    Said twice it happens once. Raises NotLast where something was written down about a window since.
    """
    require(by, Action.RECORD_WINDOWS, entry)
    undone = list(WindowRecord.objects.of(by.company).filter(entry=entry).select_related("opening"))
    if any(row.kind == Kind.TAKEN_BACK for row in undone):
        raise NotThere
    made, is_new = _entry(by, entry.house, f"back-{entry.pk}", [Kind.TAKEN_BACK, entry.pk])
    if not is_new:
        return made
    openings = {row.opening_id: row.opening for row in undone}
    happened = happened_to(by.company, list(openings.values()))
    for pk, opening in openings.items():
        own = [row.number for row in undone if row.opening_id == pk]
        if [each.number for each in still_held(happened[pk])][-len(own) :] != sorted(own):
            raise NotLast(mark=opening.mark)
    number = {pk: len(happened[pk]) for pk in openings}
    for row in sorted(undone, key=lambda row: (row.opening_id, -row.number)):
        number[row.opening_id] += 1
        WindowRecord.objects.create(
            company=by.company,
            entry=made,
            opening=row.opening,
            number=number[row.opening_id],
            kind=Kind.TAKEN_BACK,
            takes_back=row,
        )
    marks = {"marks": [opening.mark for opening in openings.values()], "was": undone[0].kind}
    record(by=by, action="take back windows", subject=made.house, after=marks)
    return made


def _entry(by: Actor, house: House, key: str, body: Sequence[object]) -> tuple[WindowEntry, bool]:
    """Return the key's entry and whether it is new; the house is locked until the transaction ends."""
    held = hold(house)
    if held.archived:
        raise Archived(what=str(held))
    body = [held.pk, *body]
    return enter_once(WindowEntry, by=by, key=key, body=body, other=OtherWindows, house=held)


def _rows(by: Actor, house: House, chosen: Iterable[int]) -> list[Opening]:
    """Return the live openings of the house, by their marks. Raises BadValue for none, WindowGone."""
    wanted = set(chosen)
    if not wanted:
        raise BadValue(problem="No window is ticked.", remedy="Tick at least one.")
    rows = list(live_openings(by.company).filter(house=house, pk__in=wanted).order_by("pk"))
    if len(rows) != len(wanted):
        raise WindowGone
    return rows


def _record(
    by: Actor, entry: WindowEntry, kind: Kind, rows: Sequence[Opening], lines: Mapping[int, _Line]
) -> list[WindowRecord]:
    happened = happened_to(by.company, rows)
    for row in rows:
        _refuse(kind, row, lines[row.pk], happened.get(row.pk, ()))
    made = WindowRecord.objects.bulk_create(
        WindowRecord(
            company=by.company,
            entry=entry,
            opening=row,
            number=len(happened.get(row.pk, ())) + 1,
            kind=kind.value,
            width_nm=line.size.width.nm if line.size else None,
            height_nm=line.size.height.nm if line.size else None,
            note=line.note,
            claim_by=line.claim_by,
        )
        for row in rows
        for line in [lines[row.pk]]
    )
    told = {"marks": [row.mark for row in rows], "notes": [line.note for line in lines.values() if line.note]}
    record(by=by, action=MAIN_ACTIONS[kind], subject=entry.house, after=told)
    return made


def _refuse(kind: Kind, row: Opening, line: _Line, happened: Sequence[Happened]) -> None:
    standing = fold(happened, scheduled_size(row))
    if not may_follow(standing, kind, line.size, scheduled_size(row)):
        raise WindowNotSo(mark=row.mark, state=standing.state.value, action=kind.value)
