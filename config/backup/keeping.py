"""Making a backup, and putting one back: what the commands `backup` and `restore` do."""

from __future__ import annotations

import os
import secrets
import shutil
import tempfile
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader

from config.backup.contents import DATABASE, MEDIA, Contents, digest, pack, unpack
from config.backup.postgres import Postgres
from config.backup.sealing import read_key
from config.backup.sqlite import Sqlite
from config.environment import kept_key
from projects.errors import BadValue
from projects.job_files import keep, whole
from projects.models import Company, User

NAMED = "lapwise-*.backup"
WORKPLACE = "unsealed-"
LONGEST_SECONDS = 24 * 3600


@dataclass(frozen=True, slots=True)
class Kept:
    """A backup that was made. `is_new_key`: its key was made with it, so nobody has a copy of the key yet."""

    file: Path
    contents: Contents
    is_new_key: bool


def database() -> Sqlite | Postgres:
    """Return the database in use."""
    told = connection.settings_dict
    return Sqlite(Path(told["NAME"])) if connection.vendor == "sqlite" else Postgres.of(told)


@contextmanager
def workplace() -> Iterator[Path]:
    """Give a folder that only we read, on the disk of the data, gone afterwards."""
    settings.VAR.mkdir(parents=True, exist_ok=True)
    _clear(settings.VAR.glob(f"{WORKPLACE}*"))
    with tempfile.TemporaryDirectory(prefix=WORKPLACE, dir=settings.VAR) as folder:
        yield Path(folder)


def make_backup(folder: Path) -> Kept:
    """Write a sealed backup into a folder, whole or not at all. Raises BadValue where that can't be done."""
    is_new = not settings.BACKUP_KEY_FILE.exists()
    now = datetime.now(UTC)
    file = folder / f"lapwise-{now:%Y%m%dT%H%M%S}.{now.microsecond // 1000:03d}Z.backup"
    try:
        _clear(folder.glob(f".{NAMED.removesuffix('.backup')}.part"))
        if is_new:
            kept_key(settings.BACKUP_KEY_FILE)
        key = read_key(settings.BACKUP_KEY_FILE)
        with workplace() as place, whole(file, claim=secrets.token_hex(4)) as target:
            source, dump = database(), place / DATABASE
            tables = source.dump(dump)
            told = {
                "made_at": now.isoformat(timespec="seconds"),
                "engine": source.engine,
                "migrations": _applied(),
                "tables": tables,
            }
            contents = pack(target, key=key, database=dump, media=settings.MEDIA_ROOT, told=told)
    except OSError as error:
        raise _not_written(error) from error
    return Kept(file, contents, is_new)


def remove_old(folder: Path, *, newest: int) -> int:
    """Remove all backups of a folder but the newest; return how many went."""
    old = sorted(folder.glob(NAMED))[:-newest]
    for file in old:
        file.unlink(missing_ok=True)
    return len(old)


def newest_in(path: Path) -> Path:
    """Return a backup: the file itself, or a folder's newest. Raises BadValue where there is none."""
    found = [path] if path.is_file() else sorted(path.glob(NAMED))
    if not found:
        raise BadValue(problem=f"There is no backup at {path}.", remedy="Name a backup or its folder.")
    return found[-1]


def restore(file: Path, *, replace: bool) -> Contents:
    """Put a backup in the place of an empty database and its files; with `replace` of any.

    All of it is read and checked before anything is touched. Raises Damaged, and BadValue where the database
    is not empty, or the backup of another kind or a later version.
    """
    try:
        with workplace() as place:
            contents = unpack(file, key=read_key(settings.BACKUP_KEY_FILE), into=place)
            target = database()
            _refuse_what_does_not_fit(contents, engine=target.engine)
            if not replace and not _is_empty():
                raise BadValue(
                    problem="The database is not empty.",
                    remedy="Add --replace to lose all that it holds now.",
                )
            _lay_files(place / MEDIA, contents)
            connection.close()
            target.load(place / DATABASE)
    except OSError as error:
        raise _not_written(error) from error
    call_command("migrate", verbosity=0)
    if replace:
        _remove_strays(contents)
    return contents


def _clear(left: Iterable[Path]) -> None:
    """Remove what a backup left behind that was killed on its way; one that is at work is younger."""
    for path in left:
        with suppress(FileNotFoundError):
            if time.time() - path.stat().st_mtime > LONGEST_SECONDS:
                shutil.rmtree(path) if path.is_dir() else path.unlink()


def _not_written(error: OSError) -> BadValue:
    reason = (error.strerror or "unknown reason").lower()
    return BadValue(
        problem=f"{error.filename or 'A file'} can't be read or written: {reason}.",
        remedy="Mend that and try again.",
    )


def _applied() -> tuple[str, ...]:
    applied = MigrationExecutor(connection).loader.applied_migrations
    return tuple(sorted(f"{app}.{name}" for app, name in applied))


def _refuse_what_does_not_fit(contents: Contents, *, engine: str) -> None:
    if contents.engine != engine:
        raise BadValue(
            problem=f"The backup is of {contents.engine}, the database here is {engine}.",
            remedy="Set DATABASE_URL to a database of the backup's kind.",
        )
    if set(contents.migrations) - _known():
        raise BadValue(
            problem="The backup was made by a later version.", remedy="Install that version and try again."
        )


def is_older(contents: Contents) -> bool:
    """Return whether the backup's tables are those of an earlier version."""
    return bool(_known() - set(contents.migrations))


def _known() -> set[str]:
    return {f"{app}.{name}" for app, name in MigrationLoader(None).disk_migrations}


def _is_empty() -> bool:
    tables = set(connection.introspection.table_names())
    return not any(
        model._meta.db_table in tables and model._default_manager.exists() for model in (Company, User)
    )


def _lay_files(laid_out: Path, contents: Contents) -> None:
    """Put each file in its place, in one step each; those that are there already stay."""
    for name, hashed in contents.files.items():
        place = Path(settings.MEDIA_ROOT, name)
        if not place.is_file() or digest(place) != hashed:
            keep((laid_out / name).read_bytes(), path=name, claim=secrets.token_hex(4))


def _remove_strays(contents: Contents) -> None:
    """Remove the files of the database that was replaced: their rows are gone."""
    root = Path(settings.MEDIA_ROOT)
    for path in [path for path in root.rglob("*") if path.is_file()]:
        if path.relative_to(root).as_posix() not in contents.files:
            with suppress(FileNotFoundError):
                os.unlink(path)
