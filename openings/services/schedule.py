"""Taking a window schedule over into a house: sent, matched, previewed, then confirmed or put away."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from openings import selectors
from openings.convert import opening_columns
from openings.errors import AlreadyDecided, BadRows, NothingToImport
from openings.models import Opening, ScheduleImport
from openings.schedule.compare import Compared, Comparison, Standing, compare
from openings.schedule.read import ScheduleReading, read_schedule
from projects.actors import Actor
from projects.errors import Archived
from projects.models import Elevation, House
from projects.rights import Action, require
from projects.services import place_elevations, remember_headers
from projects.services.writing import change, created, hold, record


@dataclass(frozen=True, slots=True)
class Preview:
    """What a schedule says and what it would change; nothing is written for it."""

    reading: ScheduleReading
    comparison: Comparison


@transaction.atomic
def start_import(
    *,
    by: Actor,
    house: House,
    file_name: str,
    content: bytes,
    match: Mapping[str, str] | None = None,
    sheet: str = "",
) -> ScheduleImport:
    """Return the file, kept as it came, for its preview. The builder's remembered headers are used."""
    require(by, Action.IMPORT_OPENINGS, house)
    if house.archived:
        raise Archived(what=str(house))
    row = ScheduleImport.objects.create(
        company=by.company,
        house=house,
        file_name=file_name[-255:] or "schedule",
        content=content,
        content_hash=hashlib.sha256(content).hexdigest(),
        sheet=sheet,
        match=dict(match) if match is not None else selectors.remembered_match(house),
        created_by=by.user,
    )
    return created(row, by=by, action="send schedule", shown=("file_name", "content_hash"))


@transaction.atomic
def match_import(
    *, by: Actor, schedule_import: ScheduleImport, match: Mapping[str, str], sheet: str = ""
) -> ScheduleImport:
    """Return the import with its headers matched; the match is remembered for the house's builder."""
    require(by, Action.IMPORT_OPENINGS, schedule_import)
    held = _undecided(schedule_import)
    held.match, held.sheet = dict(match), sheet
    held.save(update_fields=["match", "sheet"])
    if match:
        remember_headers(by=by, builder=held.house.project.builder, mapping=match)
    return held


def preview_import(schedule_import: ScheduleImport) -> Preview:
    """Return what the file says and how it stands to the house as it is now."""
    house = schedule_import.house
    reading = read_schedule(
        bytes(schedule_import.content),
        filename=schedule_import.file_name,
        specification=selectors.specification_in_force(house.project).specification,
        match=schedule_import.match,
        sheet=schedule_import.sheet or None,
    )
    return Preview(reading, compare(house=selectors.opening_inputs(house), schedule=reading.openings))


@transaction.atomic
def confirm_import(
    *,
    by: Actor,
    schedule_import: ScheduleImport,
    keep_good_rows: bool = False,
    remove_missing: bool = False,
) -> Preview:
    """Take the schedule over and return what it changed; nothing is written where nothing differs.

    Raises BadRows where a row is refused and `keep_good_rows` is not said, NothingToImport where no row is
    good, AlreadyDecided where somebody was faster.
    """
    require(by, Action.IMPORT_OPENINGS, schedule_import)
    house = hold(schedule_import.house)
    if house.archived:
        raise Archived(what=str(house))
    held = _undecided(schedule_import)
    preview = preview_import(held)
    if preview.reading.problems and not keep_good_rows:
        raise BadRows(count=len({problem.row for problem in preview.reading.problems}))
    if not preview.comparison.openings:
        raise NothingToImport(file=held.file_name)
    changed = _write(by=by, house=house, schedule_import=held, comparison=preview.comparison)
    removed = _remove(by=by, house=house, marks=preview.comparison.not_in_file if remove_missing else ())
    change(held, by=by, action="take schedule over", values=_decided(ScheduleImport.State.SAVED))
    if changed or removed:
        record(by=by, action="import openings", subject=house, after={"saved": changed, "removed": removed})
    return preview


@transaction.atomic
def put_away_import(*, by: Actor, schedule_import: ScheduleImport) -> ScheduleImport:
    """Return the import, put away without a change to the house."""
    require(by, Action.IMPORT_OPENINGS, schedule_import)
    held = _undecided(schedule_import)
    return change(held, by=by, action="put schedule away", values=_decided(ScheduleImport.State.REFUSED))


def _write(*, by: Actor, house: House, schedule_import: ScheduleImport, comparison: Comparison) -> list[str]:
    entries = [entry for entry in comparison.openings if entry.standing is not Standing.SAME]
    if not entries:
        return []
    faces = place_elevations(
        by=by, house=house, names=list(dict.fromkeys(entry.opening.elevation for entry in entries))
    )
    _create(house, schedule_import, faces, [e for e in entries if e.standing is Standing.NEW])
    _update(house, schedule_import, faces, [e for e in entries if e.standing is Standing.CHANGED])
    return [entry.opening.mark for entry in entries]


def _create(
    house: House, source: ScheduleImport, faces: Mapping[str, Elevation], entries: list[Compared]
) -> None:
    Opening.objects.bulk_create(
        Opening(
            company_id=house.company_id,
            house=house,
            elevation=faces[entry.opening.elevation],
            schedule_import=source,
            **opening_columns(entry.opening),
        )
        for entry in entries
    )


def _update(
    house: House, source: ScheduleImport, faces: Mapping[str, Elevation], entries: list[Compared]
) -> None:
    by_mark = {entry.opening.mark: entry.opening for entry in entries}
    rows = list(
        selectors.live_openings(house.company)
        .select_for_update()
        .filter(house=house, mark__in=by_mark)
        .order_by("pk")
    )
    columns: set[str] = set()
    for row in rows:
        value = by_mark[row.mark]
        for name, new in opening_columns(value).items():
            setattr(row, name, new)
            columns.add(name)
        row.elevation = faces[value.elevation]
        row.schedule_import = source
        row.version += 1
    if rows:
        Opening.objects.bulk_update(rows, [*sorted(columns), "elevation", "schedule_import", "version"])


def _remove(*, by: Actor, house: House, marks: tuple[str, ...]) -> list[str]:
    rows = selectors.live_openings(by.company).select_for_update().filter(house=house, mark__in=marks)
    for row in rows.order_by("pk"):
        change(row, by=by, action="remove opening", values={"removed_at": timezone.now()})
    return list(marks)


def _undecided(schedule_import: ScheduleImport) -> ScheduleImport:
    held = hold(schedule_import)
    if held.state != ScheduleImport.State.PREVIEW:
        raise AlreadyDecided(what=held.file_name)
    return held


def _decided(state: ScheduleImport.State) -> dict[str, object]:
    return {"state": state.value, "decided_at": timezone.now()}
