"""R6: a process that writes an embedded database is killed, or stopped and its files are copied.

Whether the sectors of a disk are lost in a power cut is not simulated: SQLite is told to wait for the disk
(synchronous = FULL), and whether the disk tells the truth is the disk's matter.
"""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from config.backup.keeping import database
from tests.architecture.source import ROOT
from tests.projects.jobs.workers import wait_until

# what there is only together: an issued order and its event and lines, a delivery and what it brought
HALF = (
    "SELECT COUNT(*) FROM materials_purchaseorder o WHERE (o.number IS NOT NULL) <> "
    "EXISTS (SELECT 1 FROM materials_orderevent e WHERE e.order_id = o.id AND e.kind = 'issued')",
    "SELECT COUNT(*) FROM materials_purchaseorder o WHERE o.number IS NOT NULL AND "
    "NOT EXISTS (SELECT 1 FROM materials_orderline l WHERE l.order_id = o.id)",
    "SELECT COUNT(*) FROM materials_delivery d WHERE NOT EXISTS "
    "(SELECT 1 FROM materials_movement m WHERE m.key LIKE d.key || '.%' AND m.kind = 'receive')",
)


class Writing:
    """Writers on a database file, one after the other, and what they said was acknowledged."""

    def __init__(self, file: Path, process: subprocess.Popen[str]) -> None:
        self.file, self.acknowledged, self.number, self.gone = file, [], 0, threading.Event()
        self._process = process
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        assert self._process.stdout
        for line in self._process.stdout:
            word = line.rstrip("\n")
            if word == ".":
                self.gone.set()
            elif word.startswith("pid "):
                self.number = int(word.removeprefix("pid "))
            else:
                self.acknowledged.append(tuple(word.split()))

    def start(self) -> None:
        """Start the next writer and wait until it has written something."""
        before, self.number = len(self.acknowledged), 0
        self.gone.clear()
        assert self._process.stdin
        self._process.stdin.write("write\n")
        self._process.stdin.flush()
        wait_until(lambda: self.number and len(self.acknowledged) > before)

    def send(self, sign: int) -> None:
        os.kill(self.number, sign)

    def kill(self) -> None:
        self.send(signal.SIGKILL)
        self.gone.wait()

    def stop(self) -> None:
        """Stop it in the middle of whatever it does."""
        self.send(signal.SIGSTOP)
        wait_until(lambda: Path(f"/proc/{self.number}/stat").read_text().rpartition(")")[2].split()[0] == "T")


@contextmanager
def a_writer(folder: Path) -> Iterator[Writing]:
    """Give writers on a copy of the test's database."""
    file = folder / "written.sqlite3"
    database().dump(file)
    environment = {
        **os.environ,
        "DJANGO_SETTINGS_MODULE": "config.settings.embedded",
        "DATABASE_URL": f"sqlite:///{file}",
        "VAR_FOLDER": str(folder / "var"),
        "REDIS_URL": "redis://127.0.0.1:1/0",  # nobody there: nothing but the database is written
    }
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.crashes.writer"],
        cwd=ROOT,
        env=environment,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    writing = Writing(file, process)
    try:
        yield writing
    finally:
        if writing.number and not writing.gone.is_set():
            writing.kill()
        process.kill()
        process.wait()


def kill_so_often(writing: Writing, dice, *, times: int) -> None:
    """Kill a writer so often; each time nothing acknowledged is lost and nothing is half there."""
    for _ in range(times):
        writing.start()
        time.sleep(dice.uniform(0, 0.1))
        writing.kill()
        assert faults(writing.file, writing.acknowledged) == []


def freeze_so_often(writing: Writing, dice, *, times: int) -> None:
    """Stop a writer so often and copy its files, as they would lie there after a power cut."""
    copy = writing.file.with_name("copy.sqlite3")
    writing.start()
    for _ in range(times):
        time.sleep(dice.uniform(0, 0.1))
        writing.stop()
        acknowledged = list(writing.acknowledged)
        copied(writing.file, to=copy)
        writing.send(signal.SIGCONT)
        assert faults(copy, acknowledged) == []
    writing.kill()


def copy_without_freezing(writing: Writing, *, times: int) -> int:
    """Return how many of so many copies are damaged or behind, whose files are read while it writes on."""
    copy, wrong = writing.file.with_name("copy.sqlite3"), 0
    writing.start()
    for _ in range(times):
        shutil.copy(writing.file, copy)
        # a large file takes its time; meanwhile the log beside it is worked in, and begun anew
        copied_at = writing.file.stat().st_mtime_ns
        wait_until(lambda before=copied_at: writing.file.stat().st_mtime_ns > before)
        worked_in = len(writing.acknowledged)
        wait_until(lambda before=worked_in: len(writing.acknowledged) > before + 2)
        acknowledged = list(writing.acknowledged)
        copied(writing.file, to=copy, only_log=True)
        wrong += bool(faults(copy, acknowledged))
    writing.kill()
    return wrong


def copied(file: Path, *, to: Path, only_log: bool = False) -> None:
    if not only_log:
        shutil.copy(file, to)
    to.with_name(f"{to.name}-shm").unlink(missing_ok=True)
    shutil.copy(f"{file}-wal", f"{to}-wal")


def faults(file: Path, acknowledged: list[tuple[str, ...]]) -> list[str]:
    """Return what is wrong with a database file, opened as after a crash."""
    try:
        with closing(sqlite3.connect(file)) as opened:
            (sound,) = opened.execute("PRAGMA integrity_check(1)").fetchone()
            there = {("received", key) for (key,) in opened.execute("SELECT key FROM materials_delivery")}
            there |= {
                ("issued", key) for (key,) in opened.execute("SELECT issue_key FROM materials_purchaseorder")
            }
            half = sum(opened.execute(query).fetchone()[0] for query in HALF)
    except sqlite3.DatabaseError as error:
        return [f"cannot be read: {error}"]
    lost = set(acknowledged) - there
    return [
        *([] if sound == "ok" else [f"is damaged: {sound}"]),
        *([f"lost {len(lost)} acknowledged"] if lost else []),
        *([f"{half} are half there"] if half else []),
    ]
