"""What the database itself refuses: changed audit rows, rows that move or point to another company.

An app adds its own in a module `triggers` with a tuple TRIGGERS; nothing imports it but this module. SQLite
drops a table's triggers when Django rebuilds it, and cannot rebuild one that others' triggers name: so all
are taken down before a migration and put up after it.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import import_module
from importlib.util import find_spec
from typing import Any

from django.apps import apps
from django.db import connections, models, transaction
from django.db.backends.base.base import BaseDatabaseWrapper

from projects.models import Owned

PREFIX = "lw_"
LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Trigger:
    """Refuses `event` on a model's table where `condition` holds.

    `event` is INSERT, UPDATE, DELETE or `UPDATE OF column`; `condition` is SQL over NEW and OLD that both
    databases read.
    """

    name: str
    model: str
    event: str
    condition: str
    words: str

    @property
    def full_name(self) -> str:
        """Return the name in the database: ours to find again, and short enough for PostgreSQL."""
        name = f"{PREFIX}{self.name}"
        if len(name) <= LONGEST_NAME:
            return name
        return f"{name[: LONGEST_NAME - 9]}_{zlib.crc32(name.encode()):08x}"


def append_only(model: str) -> tuple[Trigger, Trigger]:
    """Return the two triggers that keep a table's rows as they were written."""
    table = model.lower().replace(".", "_")
    words = f"rows of {table} are never changed"
    return (
        Trigger(f"{table}_never_changed", model, "UPDATE", "1 = 1", words),
        Trigger(f"{table}_never_deleted", model, "DELETE", "1 = 1", words),
    )


TRIGGERS: tuple[Trigger, ...] = (
    *append_only("projects.AuditEntry"),
    Trigger(
        "projects_device_stays_ended",
        "projects.Device",
        "UPDATE",
        "OLD.ended_at IS NOT NULL",
        "a phone that was signed out is never opened again",
    ),
    Trigger(
        "projects_device_stays_the_persons",
        "projects.Device",
        "UPDATE OF user_id",
        "NEW.user_id <> OLD.user_id",
        "a phone does not change its person",
    ),
)


def wanted() -> list[Trigger]:
    """Return every trigger there must be: each app's own, and the companies' borders on every owned table."""
    return [*_of_apps(), *(trigger for model in owned_models() for trigger in _borders(model))]


def owned_models() -> list[type[Owned]]:
    """Return every table that hangs below a company, in a stable order."""
    owned = [model for model in apps.get_models() if issubclass(model, Owned)]
    return sorted(owned, key=lambda model: model._meta.db_table)


def install(using: str = "default") -> None:
    """Put up every trigger whose table is there; what was there before is replaced."""
    connection = connections[using]
    tables = set(connection.introspection.table_names())
    with transaction.atomic(using=using):
        remove(using)
        with connection.cursor() as cursor:
            for trigger in wanted():
                table = apps.get_model(trigger.model)._meta.db_table
                if table in tables:
                    for statement in _statements(trigger, table=table, connection=connection):
                        cursor.execute(statement)


def remove(using: str = "default") -> None:
    """Take down every trigger of ours."""
    connection = connections[using]
    with transaction.atomic(using=using), connection.cursor() as cursor:
        for name, table in installed(using).items():
            if connection.vendor == "postgresql":
                cursor.execute(f'DROP TRIGGER "{name}" ON "{table}"')
                cursor.execute(f'DROP FUNCTION "{name}"()')
            else:
                cursor.execute(f'DROP TRIGGER "{name}"')


def installed(using: str = "default") -> dict[str, str]:
    """Return the names of our triggers in the database, each with its table."""
    connection = connections[using]
    if connection.vendor == "postgresql":
        query = (
            "SELECT tgname, relname FROM pg_trigger JOIN pg_class ON pg_class.oid = tgrelid "
            "WHERE NOT tgisinternal AND tgname LIKE 'lw\\_%'"
        )
    else:
        query = (
            "SELECT name, tbl_name FROM sqlite_master "
            "WHERE type = 'trigger' AND name LIKE 'lw\\_%' ESCAPE '\\'"
        )
    with connection.cursor() as cursor:
        cursor.execute(query)
        return dict(cursor.fetchall())


@contextmanager
def lifted(using: str = "default") -> Iterator[None]:
    """Let the work inside do what triggers refuse, in one transaction: for taking the demo away only."""
    with transaction.atomic(using=using):
        remove(using)
        yield
        install(using)


def before_migrate(using: str, **_: Any) -> None:
    """Take the triggers down, so that tables can be rebuilt."""
    remove(using)


def after_migrate(using: str, **_: Any) -> None:
    """Put the triggers up again."""
    install(using)


def _of_apps() -> Iterator[Trigger]:
    for app in apps.get_app_configs():
        name = f"{app.name}.triggers"
        if find_spec(name) is not None:
            of_app: Sequence[Trigger] = getattr(import_module(name), "TRIGGERS", ())
            yield from of_app


def _borders(model: type[Owned]) -> Iterator[Trigger]:
    label, table = model._meta.label, model._meta.db_table
    yield Trigger(
        f"{table}_stays",
        label,
        "UPDATE OF company_id",
        "NEW.company_id <> OLD.company_id",
        f"a row of {table} does not change its company",
    )
    for field in model._meta.concrete_fields:
        target = field.related_model
        if not isinstance(field, models.ForeignKey) or not isinstance(target, type):
            continue
        if not issubclass(target, Owned):
            continue
        column, other = field.column, target._meta.db_table
        condition = (
            f"NEW.{column} IS NOT NULL AND NOT EXISTS (SELECT 1 FROM {other} AS there "  # noqa: S608  # our names
            f"WHERE there.id = NEW.{column} AND there.company_id = NEW.company_id)"
        )
        words = f"{table}.{column} points to another company"
        yield Trigger(f"{table}_{column}_added", label, "INSERT", condition, words)
        yield Trigger(f"{table}_{column}_moved", label, f"UPDATE OF {column}", condition, words)


def _statements(trigger: Trigger, *, table: str, connection: BaseDatabaseWrapper) -> list[str]:
    name, words = trigger.full_name, trigger.words.replace("'", "''")
    head = f'CREATE TRIGGER "{name}" BEFORE {trigger.event} ON "{table}" FOR EACH ROW'
    if connection.vendor == "postgresql":
        # a WHEN clause may not look into other tables there, so each condition has a function of its own
        returned = "OLD" if trigger.event == "DELETE" else "NEW"
        body = (
            f"BEGIN IF {trigger.condition} THEN RAISE EXCEPTION '{words}' USING ERRCODE = 'check_violation'; "
            f"END IF; RETURN {returned}; END"
        )
        return [
            f'CREATE FUNCTION "{name}"() RETURNS trigger LANGUAGE plpgsql AS $body$ {body} $body$',
            f'{head} EXECUTE FUNCTION "{name}"()',
        ]
    return [f"{head} WHEN {trigger.condition} BEGIN SELECT RAISE(ABORT, '{words}'); END"]
