"""Copying a PostgreSQL database with its own programs, and putting a copy in its place."""

from __future__ import annotations

import hashlib
import os
import secrets
import shutil
import subprocess  # nosec B404 - PostgreSQL's programs do the copying
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlencode

import psycopg
from psycopg import sql
from psycopg.conninfo import make_conninfo

from projects.errors import BadValue

# what a copy replaces: every table, and the functions of our triggers; who works meanwhile is not waited for
CLEARED = """SET lock_timeout = '10s';
DO $clear$ DECLARE there record; BEGIN
FOR there IN SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' LOOP
EXECUTE format('DROP TABLE public.%I CASCADE', there.name); END LOOP;
FOR there IN SELECT oid::regprocedure AS name FROM pg_proc
WHERE pronamespace = 'public'::regnamespace AND proname LIKE 'lw\\_%' LOOP
EXECUTE 'DROP FUNCTION ' || there.name || ' CASCADE'; END LOOP;
END $clear$;
"""
OF_LIBPQ = ("sslmode", "sslrootcert", "sslcert", "sslkey", "connect_timeout", "options")


@dataclass(frozen=True, slots=True)
class Postgres:
    """One database on a server. `told` are the server's host, port, user and options."""

    name: str
    password: str
    told: Mapping[str, str]
    engine: str = "PostgreSQL"

    @classmethod
    def of(cls, settings: Mapping[str, Any]) -> Postgres:
        """Return the database that Django's settings name."""
        given = {"host": settings["HOST"], "port": settings["PORT"], "user": settings["USER"]}
        given |= {name: settings["OPTIONS"].get(name) for name in OF_LIBPQ}
        told = {name: str(value) for name, value in given.items() if value}
        return cls(name=settings["NAME"], password=settings["PASSWORD"] or "", told=told)

    @property
    def url(self) -> str:
        """Return its address, as DATABASE_URL takes it."""
        extra = {name: value for name, value in self.told.items() if name in OF_LIBPQ}
        who = f"{quote(self.told.get('user', ''), safe='')}:{quote(self.password, safe='')}"
        # a host that is a folder, where the server's socket lies, is written with %2F
        where = f"{quote(self.told.get('host', ''), safe='')}:{self.told.get('port', '5432')}"
        return f"postgres://{who}@{where}/{quote(self.name, safe='')}" + (
            f"?{urlencode(extra)}" if extra else ""
        )

    def dump(self, to: Path) -> Mapping[str, str]:
        """Write a copy of one moment and return the hashes of its tables at that moment. Raises BadValue."""
        with self._connected() as connection:
            connection.isolation_level = psycopg.IsolationLevel.REPEATABLE_READ
            connection.read_only = True
            moment = connection.execute("SELECT pg_export_snapshot()").fetchone()
            hashes = _hashes(connection)
            # the transaction stays open: the copy is of the moment that was hashed
            self._run(
                "pg_dump",
                "-Fc",
                "--no-owner",
                "--no-privileges",
                f"--snapshot={(moment or ('',))[0]}",
                f"--file={to}",
            )
        return hashes

    def load(self, dump: Path) -> None:
        """Put a copy in the database's place, all of it or nothing. Raises BadValue."""
        clear, script = dump.with_name("clear.sql"), dump.with_name("script.sql")
        clear.write_text(CLEARED, encoding="ascii")
        _run([_program("pg_restore"), "--no-owner", "--no-privileges", f"--file={script}", str(dump)], {})
        as_one = ("--single-transaction", "--set=ON_ERROR_STOP=1")
        self._run("psql", "--no-psqlrc", "--quiet", *as_one, f"--file={clear}", f"--file={script}")

    def hashes(self) -> Mapping[str, str]:
        """Return the hash of each table's rows."""
        with self._connected() as connection:
            return _hashes(connection)

    @contextmanager
    def scratch(self, folder: Path) -> Iterator[Postgres]:
        """Give an empty database that is dropped afterwards. Raises BadValue where we may make none."""
        own = replace(self, name=f"lapwise_drill_{secrets.token_hex(4)}")
        name = sql.Identifier(own.name)
        with self._connected() as connection:
            connection.autocommit = True
            try:
                connection.execute(sql.SQL("CREATE DATABASE {} TEMPLATE template0").format(name))
            except psycopg.errors.InsufficientPrivilege as error:
                raise BadValue(
                    problem="The drill may not make a database of its own.",
                    remedy="As the server's administrator: ALTER ROLE name CREATEDB.",
                ) from error
            try:
                yield own
            finally:
                connection.execute(sql.SQL("DROP DATABASE {} WITH (FORCE)").format(name))

    def _connected(self) -> psycopg.Connection[Any]:
        return psycopg.connect(make_conninfo(dbname=self.name, **self.told), password=self.password or None)

    def _run(self, program: str, *options: str) -> None:
        # the password in the environment: everybody on the machine sees a program's arguments
        address = make_conninfo(dbname=self.name, **self.told)
        password = {"PGPASSWORD": self.password} if self.password else {}
        _run([_program(program), *options, f"--dbname={address}"], password)


def _program(name: str) -> str:
    found = shutil.which(name)
    if found is None:
        raise BadValue(
            problem=f"{name} is not on this machine.", remedy="As root: apt-get install postgresql-client."
        )
    return found


def _run(command: Sequence[str], more: Mapping[str, str]) -> None:
    ran = subprocess.run(  # noqa: S603  # nosec B603 - PostgreSQL's own programs
        command, env={**os.environ, **more}, capture_output=True, text=True, check=False
    )
    if ran.returncode:
        told = (ran.stderr.strip().splitlines() or ["it gave no reason"])[-1]
        name = Path(command[0]).name
        raise BadValue(
            problem=f"{name} stopped: {told}", remedy="Mend that and try again: nothing was changed."
        )


def _hashes(connection: psycopg.Connection[Any]) -> dict[str, str]:
    connection.execute("SET TIME ZONE 'UTC'")
    named = connection.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public' ORDER BY 1")
    return {name: _hash(connection, name) for (name,) in named.fetchall()}


def _hash(connection: psycopg.Connection[Any], table: str) -> str:
    """Return the hash of a table's rows as text, in an order that no server's language changes."""
    rows = sql.SQL('COPY (SELECT * FROM {} AS r ORDER BY r::text COLLATE "C") TO STDOUT')
    found = hashlib.sha256()
    with connection.cursor() as cursor, cursor.copy(rows.format(sql.Identifier("public", table))) as copy:
        for piece in copy:
            found.update(piece)
    return found.hexdigest()
