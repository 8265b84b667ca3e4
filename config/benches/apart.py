"""Runs a bench in a process of its own, on a database of its own that is gone afterwards."""

from __future__ import annotations

import json
import os
import shutil
import subprocess  # nosec B404 - starting programs is what this file is for
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.conf import settings

from config.benches.figure import Figure

DATABASE = "lapwise.sqlite3"


class BenchStopped(RuntimeError):
    """A program ended without an answer; its own words stand on standard error."""


@contextmanager
def empty_database() -> Iterator[Path]:
    """Give a database with all tables and no rows, for `measured` to copy. Raises BenchStopped."""
    with _folder() as folder:
        _run(["manage.py", "migrate", "--verbosity", "0"], folder)
        yield folder / DATABASE


def measured(name: str, *, empty: Path, small: bool) -> tuple[Figure, ...]:
    """Return what the bench measures, begun with a copy of `empty`; `small` tries it with little.

    Raises BenchStopped.
    """
    with _folder() as folder:
        shutil.copy(empty, folder / DATABASE)
        told = json.loads(_run(["-m", "config.benches", name, *(["--small"] if small else [])], folder))
    return tuple(Figure(**figure) for figure in told)


@contextmanager
def _folder() -> Iterator[Path]:
    with tempfile.TemporaryDirectory(prefix="lapwise-bench-") as folder:
        yield Path(folder)


def _run(program: list[str], folder: Path) -> bytes:
    """Return what a program of ours prints with nothing of the user in reach, neither data nor broker."""
    kept = {name: value for name, value in os.environ.items() if name != "REDIS_URL"}
    ran = subprocess.run(  # noqa: S603  # nosec B603 - our own program
        [sys.executable, *program],
        cwd=settings.ROOT,
        env=kept
        | {
            "DJANGO_SETTINGS_MODULE": "config.settings.embedded",
            "VAR_FOLDER": str(folder),
            "MEDIA_ROOT": str(folder / "media"),
            "DATABASE_URL": f"sqlite:///{folder / DATABASE}",
            "ALLOWED_HOSTS": "localhost",
            "DEBUG": "false",
        },
        stdout=subprocess.PIPE,
        check=False,
    )
    if ran.returncode:
        raise BenchStopped(" ".join(program))
    return ran.stdout
