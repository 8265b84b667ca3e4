"""Real workers and brokers for tests: started, killed and watched as programs."""

from __future__ import annotations

import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from urllib.parse import quote

from django.conf import settings
from django.db import connection

QUICK = {
    "JOB_HEARTBEAT_SECONDS": "1",
    "JOB_STALE_SECONDS": "3",
    "JOB_SWEEP_SECONDS": "1",
    "JOB_NUDGE_AGAIN_SECONDS": "2",
}


def database_url() -> str:
    """Return the test database as a worker finds it."""
    told = connection.settings_dict
    if connection.vendor == "sqlite":
        return f"sqlite:///{told['NAME']}"
    word = f":{quote(told['PASSWORD'])}" if told["PASSWORD"] else ""
    return (
        f"postgres://{quote(told['USER'] or '')}{word}@{told['HOST']}:{told['PORT'] or 5432}/{told['NAME']}"
    )


class Worker:
    """One worker with its own clock, in a process group of its own."""

    def __init__(self, *, broker: str, changes: Mapping[str, str]) -> None:
        environment = {
            **os.environ,
            **QUICK,
            "DJANGO_SETTINGS_MODULE": "config.settings.embedded",
            "VAR_FOLDER": str(settings.TEST_FILES),
            "MEDIA_ROOT": str(settings.MEDIA_ROOT),
            "DATABASE_URL": database_url(),
            "JOB_QUEUE": settings.CELERY_TASK_DEFAULT_QUEUE,
            **({"REDIS_URL": broker} if broker.startswith("redis") else {}),
            **changes,
        }
        schedule = settings.TEST_FILES / f"clock-{time.monotonic_ns()}"
        self.log = settings.TEST_FILES / f"{schedule.name}.log"
        self.environment = environment
        self.command = [
            *(sys.executable, "-m", "celery", "--app", "config.celery", "--quiet", "worker", "--beat"),
            *("--schedule", str(schedule), "--concurrency", "2", "--loglevel", "warning"),
            *("--include", "tests.projects.jobs.kinds"),
        ]
        self.process = self._started()

    def _started(self) -> subprocess.Popen:
        with self.log.open("a") as log:
            return subprocess.Popen(
                self.command, env=self.environment, stdout=log, stderr=log, start_new_session=True
            )

    def start_again_if_it_ended(self) -> None:
        """Do what watches over it in production: what ended is started again."""
        if self.process.poll() is not None:
            self.process = self._started()

    def kill(self) -> None:
        """Kill it and all it started, as a power cut would."""
        with suppress(ProcessLookupError):
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()


@contextmanager
def a_worker(broker: str = "", **changes: str) -> Iterator[Worker]:
    """Run a worker on the test's database and broker until the block ends."""
    worker = Worker(broker=broker or settings.CELERY_BROKER_URL, changes=changes)
    try:
        yield worker
    finally:
        worker.kill()


class Redis:
    """A Redis of the test's own that keeps nothing on disk; it can be killed and started again, empty."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]
        self.url = f"redis://127.0.0.1:{self.port}/0"
        self.process: subprocess.Popen | None = None

    def start(self) -> None:
        command = [
            shutil.which("redis-server") or "redis-server",
            "--port",
            str(self.port),
            "--bind",
            "127.0.0.1",
        ]
        command += ["--save", "", "--appendonly", "no", "--dir", str(self.folder)]
        self.process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
        wait_until(self.answers, seconds=20)

    def kill(self) -> None:
        if self.process:
            self.process.kill()
            self.process.wait()

    def answers(self) -> bool:
        try:
            socket.create_connection(("127.0.0.1", self.port), timeout=1).close()
        except OSError:
            return False
        return True


def wait_until(holds: Callable[[], object], *, seconds: float = 120) -> object:
    """Return what `holds` answers once that is true; fail after `seconds`."""
    last_moment = time.monotonic() + seconds
    while time.monotonic() < last_moment:
        found = holds()
        if found:
            return found
        time.sleep(0.1)
    raise AssertionError(f"not within {seconds} s")
