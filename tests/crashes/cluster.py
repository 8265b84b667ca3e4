"""A PostgreSQL of the test's own, with checksums, that can be killed and started again."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import psycopg

from config.backup.keeping import database
from config.backup.postgres import Postgres
from config.bin.test_production import free_port, may_create, new_cluster
from tests.crashes.killing import children_of, kill, wait_for_the_end
from tests.projects.jobs.workers import wait_until

NAME = "lapwise"


class Cluster:
    """One server, and the copy of the test's database in it."""

    def __init__(self, folder: Path) -> None:
        self.port = free_port()
        self.folder = folder / "postgres"
        self.command = new_cluster(folder, self.port)
        self.database = Postgres(
            NAME,
            "",
            {"host": "127.0.0.1", "port": str(self.port), "user": "postgres", "connect_timeout": "2"},
        )
        self.process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        return f"postgres://postgres@127.0.0.1:{self.port}/postgres"

    def start(self, *options: str) -> None:
        self.process = subprocess.Popen(
            [*self.command, *options], cwd=self.folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        wait_until(lambda: may_create(self.address))

    def kill(self) -> None:
        """Kill the first process and all it started, so that nothing is written down in order."""
        assert self.process
        started = [self.process.pid, *children_of(self.process.pid)]
        kill(started)
        self.process.wait()
        wait_for_the_end(started)

    def take_over(self, folder: Path) -> None:
        """Hold what the test's database holds."""
        with psycopg.connect(self.address, autocommit=True) as connection:
            connection.execute(f"CREATE DATABASE {NAME}")
        dump = folder / "dump"
        database().dump(dump)
        self.database.load(dump)

    def rows(self, query: str) -> list[tuple[Any, ...]]:
        with psycopg.connect(self.address.removesuffix("postgres") + NAME) as connection:
            return connection.execute(query).fetchall()


@contextmanager
def a_cluster() -> Iterator[Cluster]:
    """Give a server that runs, and is gone afterwards; its folder is one that its own user may enter."""
    with TemporaryDirectory(prefix="lapwise-cluster-") as name:
        Path(name).chmod(0o755)
        cluster = Cluster(Path(name))
        cluster.start()
        try:
            yield cluster
        finally:
            cluster.kill()
