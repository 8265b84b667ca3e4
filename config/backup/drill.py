"""The drill: is a backup any good? It is put back beside the database in use, and all of it compared."""

from __future__ import annotations

import json
import os
import subprocess  # nosec B404 - starts our own program on the scratch database
import sys
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings

from config.backup.contents import DATABASE, MEDIA, Contents, laid_out, unpack
from config.backup.keeping import database, is_older, make_backup, workplace
from config.backup.postgres import Postgres
from config.backup.sealing import read_key
from config.backup.sqlite import Sqlite
from projects.errors import BadValue


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that a good backup has."""

    what: str
    holds: bool
    told: str


def drill(file: Path | None) -> Iterator[Check]:
    """Yield what holds of a backup, of a new one where none is given. What is in use is only read."""
    with workplace() as place:
        try:
            began = time.monotonic()
            file = file or make_backup(place / "kept").file
            yield Check("made", True, f"{file.name}, {file.stat().st_size:,} bytes, {_since(began)}")
            began, contents_folder = time.monotonic(), place / "contents"
            contents_folder.mkdir()
            contents = unpack(file, key=read_key(settings.BACKUP_KEY_FILE), into=contents_folder)
            yield Check("whole", True, f"sealed at {contents.made_at}, every byte as it was written")
            with database().scratch(place) as scratch:
                scratch.load(contents_folder / DATABASE)
                yield Check("restored", True, _since(began))
                yield from _compared(contents, contents_folder, scratch)
        except BadValue as refusal:
            yield Check("usable", False, refusal.problem.rstrip("."))


def _compared(contents: Contents, folder: Path, scratch: Sqlite | Postgres) -> Iterator[Check]:
    tables = _same("tables", contents.tables, scratch.hashes())
    yield tables
    yield _same("files", contents.files, laid_out(folder))
    if tables.holds:
        yield _invariants(scratch.url, media=folder / MEDIA, is_older=is_older(contents))


def _same(what: str, wanted: Mapping[str, str], found: Mapping[str, str]) -> Check:
    others = sorted(name for name in {*wanted, *found} if wanted.get(name) != found.get(name))
    told = f"differ: {', '.join(others[:5])}" if others else f"{len(wanted)}, each with its SHA-256"
    return Check(what, not others, told)


def _invariants(url: str, *, media: Path, is_older: bool) -> Check:
    """Ask our own command on the scratch database, brought to this version's tables first."""
    environment = {**os.environ, "DATABASE_URL": url, "MEDIA_ROOT": str(media)}
    told = ""
    commands = [["verify_invariants", "--json"]]
    if is_older:
        commands.insert(0, ["migrate", "--verbosity", "0"])
    for command in commands:
        ran = subprocess.run(  # noqa: S603  # nosec B603 - our own command
            [sys.executable, "manage.py", *command],
            cwd=settings.ROOT,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )
        if ran.returncode and not ran.stdout:
            return Check("invariants", False, (ran.stderr.strip().splitlines() or ["no answer"])[-1])
        told = ran.stdout
    found = json.loads(told)
    broken = [each["code"] for each in found["invariants"] if not each["holds"]]
    return Check(
        "invariants",
        not broken,
        f"broken: {', '.join(broken)}" if broken else f"{len(found['invariants'])} hold",
    )


def _since(began: float) -> str:
    return f"{time.monotonic() - began:.1f} s"
