"""Copying an embedded database while it is in use, and putting a copy in its place."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from pathlib import Path

from config.environment import SQLITE_OPTIONS


class Sqlite:
    """One database file."""

    engine = "SQLite"

    def __init__(self, file: Path) -> None:
        """Keep where it is."""
        self.file = file

    @property
    def url(self) -> str:
        """Return its address, as DATABASE_URL takes it."""
        return f"sqlite:///{self.file}"

    def dump(self, to: Path) -> Mapping[str, str]:
        """Write a copy of one moment and return the hashes of its tables at that moment."""
        with closing(self._opened()) as source, closing(sqlite3.connect(to)) as copy:
            source.execute("BEGIN")  # what is hashed and what is copied are the same moment
            hashes = _hashes(source)
            source.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")  # one file, with nothing beside it
        return hashes

    def load(self, dump: Path) -> None:
        """Put a copy in the database's place: all of it or nothing, also for who reads meanwhile."""
        with closing(sqlite3.connect(dump)) as copy, closing(self._opened()) as target:
            copy.backup(target)

    def hashes(self) -> Mapping[str, str]:
        """Return the hash of each table's rows."""
        with closing(self._opened()) as source:
            return _hashes(source)

    @contextmanager
    def scratch(self, folder: Path) -> Iterator[Sqlite]:
        """Give an empty database that is gone afterwards with its folder."""
        yield Sqlite(folder / "scratch.sqlite3")

    def _opened(self) -> sqlite3.Connection:
        opened = sqlite3.connect(self.file, timeout=SQLITE_OPTIONS["timeout"], isolation_level=None)
        opened.execute("PRAGMA synchronous = FULL")
        return opened


def _hashes(connection: sqlite3.Connection) -> dict[str, str]:
    named = "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\'"
    return {name: _hash(connection, name) for (name,) in connection.execute(named).fetchall()}


def _hash(connection: sqlite3.Connection, table: str) -> str:
    found = hashlib.sha256()
    for row in connection.execute(f'SELECT * FROM "{table}" ORDER BY 1'):  # noqa: S608  # names of ours
        found.update(repr(row).encode())
    return found.hexdigest()
