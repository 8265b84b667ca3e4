#!/usr/bin/env python3
"""Runs the whole suite on PostgreSQL and Redis.

The servers are those of DATABASE_URL and REDIS_URL, else this machine's, else its own on free ports. What it
makes there it removes again: databases of its own name, and the keys of its own queues.
"""

from __future__ import annotations

import os
import secrets
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from getpass import getuser
from pathlib import Path
from urllib.parse import urlsplit, urlunsplit

import psycopg
import redis

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))
DATABASE = f"lapwise_test_{secrets.token_hex(4)}"
OWN_KEYS = "*lapwise-test-*"
TAKEN = "lapwise-test-takes-this-database"


def main() -> int:
    """Find or start both servers, run pytest with the given arguments, and return its exit code."""
    os.chdir(ROOT)
    with tempfile.TemporaryDirectory(prefix="lapwise-servers-") as folder, ExitStack() as servers:
        Path(folder).chmod(0o755)
        database = servers.enter_context(a_database(Path(folder)))
        queue = servers.enter_context(a_queue(Path(folder)))
        print(f"PostgreSQL: {without_password(database)}\nRedis: {without_password(queue)}", flush=True)
        environment = {**os.environ, "DATABASE_URL": database, "REDIS_URL": queue}
        environment.pop("DJANGO_SETTINGS_MODULE", None)
        command = [sys.executable, "-m", "pytest", *sys.argv[1:]]
        return subprocess.run(command, env=environment, check=False).returncode


@contextmanager
def a_database(folder: Path) -> Iterator[str]:
    """Give the address of an empty database, and remove it and those that the tests derived from its name."""
    with ExitStack() as own:
        server = find_postgres() or own.enter_context(own_postgres(folder))
        parts = urlsplit(server)
        with psycopg.connect(server, autocommit=True) as connection:
            connection.execute(f'CREATE DATABASE "{DATABASE}"'.encode())
        try:
            yield urlunsplit(parts._replace(path=f"/{DATABASE}"))
        finally:
            drop_databases(server)


def find_postgres() -> str:
    """Return the address of a server where databases may be made, or nothing."""
    given = os.environ.get("DATABASE_URL", "")
    if given:
        parts = urlsplit(given)
        return urlunsplit(parts._replace(scheme="postgres", path="/postgres"))
    for user in dict.fromkeys([os.environ.get("PGUSER", ""), getuser(), "postgres"]):
        address = f"postgres://{user}@127.0.0.1:5432/postgres"
        if user and may_create(address):
            return address
    return ""


def may_create(address: str) -> bool:
    """Return whether somebody answers there and lets us make databases."""
    question = "SELECT rolcreatedb OR rolsuper FROM pg_roles WHERE rolname = current_user"
    try:
        with psycopg.connect(address, connect_timeout=2) as connection:
            row = connection.execute(question).fetchone()
    except psycopg.OperationalError:
        return False
    return bool(row and row[0])


@contextmanager
def own_postgres(folder: Path) -> Iterator[str]:
    """Run a PostgreSQL of our own on a free port."""
    port = free_port()
    with running(new_cluster(folder, port), folder=folder / "postgres"):
        address = f"postgres://postgres@127.0.0.1:{port}/postgres"
        wait_until(lambda: may_create(address), "PostgreSQL")
        yield address


def new_cluster(folder: Path, port: int) -> list[str]:
    """Make a PostgreSQL of our own, with checksums, and return the command that serves it."""
    programs = sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    found = str(programs[0]) if programs else os.path.dirname(shutil.which("initdb") or "")
    if not found:
        sys.exit("test-production: there is no PostgreSQL. Give DATABASE_URL, or: apt-get install postgresql")
    files = folder / "postgres"
    files.mkdir()
    as_user: list[str] = []
    if os.geteuid() == 0:
        # PostgreSQL refuses to run as root
        shutil.chown(files, "postgres")
        as_user = ["setpriv", "--reuid=postgres", "--regid=postgres", "--clear-groups"]
    make = [
        f"{found}/initdb",
        "--pgdata",
        str(files / "data"),
        "--auth",
        "trust",
        "--username",
        "postgres",
        "-k",
    ]
    subprocess.run([*as_user, *make], check=True, cwd=files, stdout=subprocess.DEVNULL)
    return [
        *as_user,
        f"{found}/postgres",
        "-D",
        str(files / "data"),
        "-p",
        str(port),
        "-k",
        str(files),
        "-h",
        "127.0.0.1",
    ]


def drop_databases(server: str) -> None:
    """Remove the database and those that the test runners named after it."""
    with psycopg.connect(server, autocommit=True) as connection:
        named = connection.execute("SELECT datname FROM pg_database WHERE datname LIKE %s", [f"%{DATABASE}%"])
        for (name,) in named.fetchall():
            connection.execute(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)'.encode())


@contextmanager
def a_queue(folder: Path) -> Iterator[str]:
    """Give the address of an empty Redis database, and remove from it what the tests put there."""
    with ExitStack() as own:
        given = os.environ.get("REDIS_URL", "")
        address = given or find_redis() or own.enter_context(own_redis(folder))
        try:
            yield address
        finally:
            # a database that was empty when we took it holds nothing but ours
            with redis.Redis.from_url(address) as client:
                for key in client.scan_iter(OWN_KEYS if given else "*"):
                    client.delete(key)


def find_redis() -> str:
    """Take an unused database of this machine's Redis, never one that holds anything."""
    for number in range(9, 16):
        address = f"redis://127.0.0.1:6379/{number}"
        with suppress(redis.RedisError), redis.Redis.from_url(address, socket_connect_timeout=2) as client:
            if client.dbsize() == 0 and client.set(TAKEN, "1", nx=True):
                return address
    return ""


@contextmanager
def own_redis(folder: Path) -> Iterator[str]:
    """Run a Redis of our own on a free port."""
    program, port = shutil.which("redis-server"), free_port()
    if not program:
        sys.exit("test-production: there is no Redis. Give REDIS_URL, or: apt-get install redis-server")
    address = f"redis://127.0.0.1:{port}/0"
    command = [program, "--port", str(port), "--bind", "127.0.0.1", "--save", "", "--dir", str(folder)]
    with running(command, folder=folder):
        wait_until(lambda: redis_answers(address), "Redis")
        yield address


def redis_answers(address: str) -> bool:
    """Return whether a Redis answers there."""
    with suppress(redis.RedisError), redis.Redis.from_url(address) as client:
        return bool(client.ping())
    return False


@contextmanager
def running(command: Sequence[str | Path], *, folder: Path) -> Iterator[None]:
    """Run a server for as long as the block lasts."""
    process = subprocess.Popen(command, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        yield
    finally:
        process.terminate()
        process.wait(30)


def wait_until(holds: Callable[[], bool], what: str) -> None:
    """Wait for a server that was just started."""
    last_moment = time.monotonic() + 30
    while not holds():
        if time.monotonic() > last_moment:
            sys.exit(f"test-production: {what} did not start within 30 s.")
        time.sleep(0.1)


def free_port() -> int:
    """Return a port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def without_password(address: str) -> str:
    """Return an address as it may be printed."""
    parts = urlsplit(address)
    host = parts.netloc.rpartition("@")[2]
    return f"{host}{parts.path}"


if __name__ == "__main__":
    sys.exit(main())
