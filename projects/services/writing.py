"""What every write has in common: the locked row, the version, the audit row, the name that is taken."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any, TypeVar, cast
from zoneinfo import ZoneInfo

from django.apps import apps
from django.db import IntegrityError, models, transaction
from django.utils import timezone

from projects import request_id
from projects.actors import Actor
from projects.errors import NotThere, StaleVersion, Taken
from projects.models import AuditEntry, Company, Owned
from projects.selectors import version_of

Row = TypeVar("Row", bound=Owned)


def record(
    *,
    by: Actor,
    action: str,
    subject: models.Model,
    before: Mapping[str, Any] | None = None,
    after: Mapping[str, Any] | None = None,
) -> AuditEntry:
    """Write one audit row. Called inside the transaction of the write it tells of."""
    return AuditEntry.objects.create(
        company=by.company,
        at=timezone.now(),
        user=by.user,
        actor=by.name,
        action=action,
        subject_kind=subject._meta.label_lower,
        subject_id=subject.pk,
        subject_name=str(subject)[:254],
        before=_plain(before),
        after=_plain(after),
        request_id=request_id.current(),
    )


def hold(row: Row, *, version: int | None = None) -> Row:
    """Return the row as it is now, locked until the transaction ends.

    Raises NotThere where it is gone, StaleVersion where `version` is not the one at hand.
    """
    same = type(row)._default_manager.select_for_update().filter(pk=row.pk, company_id=row.company_id)
    held = cast("Row | None", same.first())
    if held is None:
        raise NotThere
    if version is not None and getattr(held, "version", version) != version:
        raise stale(held, company=held.company)
    return held


def hold_company(by: Actor) -> None:
    """Lock the company's row: of two people who number or order, the second sees what the first did."""
    Company.objects.select_for_update().get(pk=by.company.pk)


def change(row: Row, *, by: Actor, action: str, values: Mapping[str, Any]) -> Row:
    """Return the held row with `values` saved, its version counted up and an audit row of what differs.

    Nothing is written where nothing differs.
    """
    before = {name: getattr(row, name) for name, value in values.items() if getattr(row, name) != value}
    if not before:
        return row
    for name in before:
        setattr(row, name, values[name])
    names = list(before)
    if hasattr(row, "version"):
        row.version += 1
        names.append("version")
    row.save(update_fields=names)
    record(by=by, action=action, subject=row, before=before, after={name: values[name] for name in before})
    return row


def created(row: Row, *, by: Actor, action: str, shown: Iterable[str]) -> Row:
    """Return the new row, after an audit row of its `shown` fields."""
    record(by=by, action=action, subject=row, after={name: getattr(row, name) for name in shown})
    return row


@contextmanager
def unless_taken(constraint: str, *, field: str, what: str, value: str) -> Iterator[None]:
    """Turn the database's refusal of a second `value` into words; the database decides, not a look before."""
    try:
        with transaction.atomic():
            yield
    except IntegrityError as error:
        if not any(name in str(error) for name in _called(constraint)):
            raise
        raise Taken(field=field, what=what, value=value) from error


def refuse_stale(rows: Sequence[Row], *, by: Actor, action: str, version: int | None, what: str) -> None:
    """Raise StaleVersion where `action` was recorded of the rows since `version`; None asks for no check.

    What the action writes is locked already. `what` is the name that people read.
    """
    if version is not None and version_of(by.company, rows, action) != version:
        raise stale(*rows, company=by.company, what=what)


def stale(*rows: models.Model, company: Company, what: str = "") -> StaleVersion:
    """Return the refusal of a save over somebody else's, with who it was and when; no rows, a lost form."""
    last = (
        AuditEntry.objects.of(company)
        .filter(
            subject_kind__in=[row._meta.label_lower for row in rows],
            subject_id__in=[row.pk for row in rows],
        )
        .order_by("-id")
        .first()
    )
    row = next(iter(rows), None)
    at = last.at if last else timezone.now()
    local = at.astimezone(ZoneInfo(company.time_zone))
    who = last.actor if last else "Somebody"
    return StaleVersion(what=what or str(row), who=who, when=f"{local:%H:%M}", row=row)


def _plain(values: Mapping[str, Any] | None) -> dict[str, Any] | None:
    if values is None:
        return None
    return {name: _as_json(value) for name, value in values.items()}


def _as_json(value: Any) -> Any:
    if value is None or isinstance(value, bool | int | str | list | dict):
        return value
    if isinstance(value, dt.datetime | dt.date):
        return value.isoformat()
    return str(value)


def _called(constraint: str) -> list[str]:
    """Return how the databases name a unique constraint; SQLite names the columns of a plain one."""
    for model in apps.get_models():
        for found in model._meta.constraints:
            if found.name == constraint and isinstance(found, models.UniqueConstraint) and found.fields:
                table = model._meta.db_table
                columns = [model._meta.get_field(name).column for name in found.fields]  # type: ignore[union-attr]
                return [constraint, ", ".join(f"{table}.{column}" for column in columns)]
    return [constraint]
