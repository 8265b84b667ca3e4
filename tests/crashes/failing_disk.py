"""R12: reading and writing fail at random under the web server's database, as on a disk that wears out.

libfiu stands between the server and the system's library and answers a call with EIO where it is told to. It
is told while the server runs, so that the same processes go on when the disk is sound again.
"""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import time
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, field
from errno import EIO
from pathlib import Path

from config.backup.keeping import database
from tests.crashes.killing import children_of, kill, wait_for_the_end
from tests.crashes.receiving import Writer, orders_for, writing
from tests.crashes.sqlite_killed import faults
from tests.materials.orders.web import Browser, running_server
from tests.projects.jobs.workers import wait_until

MISSING = "libfiu is not installed. As root: apt-get install -y --no-install-recommends fiu-utils"
PLACES = (Path("/usr/lib/fiu"), Path("/usr/local/lib/fiu"))
# what SQLite reads and writes its file and log with, makes them last and longer: libfiu's names of the calls
CALLS = tuple(
    f"posix/io/{call}" for call in ("rw/pread", "rw/pwrite", "rw/ftruncate", "sync/fsync", "sync/fdatasync")
)
REFUSALS = {507, 503}


def is_there() -> bool:
    return shutil.which("fiu-ctrl") is not None and any(place.is_dir() for place in PLACES)


@dataclass
class FailingDisk:
    """What makes calls fail in the processes that were started with its `environment`."""

    folder: Path
    failing: bool = False

    @property
    def environment(self) -> dict[str, str]:
        place = next(place for place in PLACES if place.is_dir())
        layers = [place / "fiu_run_preload.so", place / "fiu_posix_preload.so"]
        return {
            "LD_PRELOAD": " ".join(map(str, layers)),
            "FIU_CTRL_FIFO": str(self.folder / "fiu"),
            "FIU_ENABLE": "",
        }

    def fail(self, processes: list[int], *, chance: float) -> None:
        """Let each call fail with this chance."""
        self._tell(
            processes, [f"enable_random name={call},probability={chance},failinfo={EIO}" for call in CALLS]
        )

    def work(self, processes: list[int]) -> None:
        """Let no call fail any more."""
        self._tell(processes, [f"disable name={call}" for call in CALLS])

    def _tell(self, processes: list[int], commands: list[str]) -> None:
        told = [part for command in commands for part in ("-c", command)]
        subprocess.run(
            ["fiu-ctrl", "-f", str(self.folder / "fiu"), *told, *map(str, processes)],
            check=True,
            capture_output=True,
            timeout=60,
        )


@dataclass
class Seen:
    """What was answered while the disk failed and after, and what the file has at the end."""

    statuses: Counter[int] = field(default_factory=Counter)
    words: set[str] = field(default_factory=set)
    recovered: int = 0
    acknowledged: list[tuple[str, str]] = field(default_factory=list)
    file: Path = Path()


def fail_so_often(site, folder: Path, *, times: int, refusals: int, chance: float) -> Seen:
    """Let the disk fail so often until so many forms were refused; each time the same server recovers.

    At the end it is killed while the disk fails.
    """
    seen, disk = Seen(file=folder / "failing.sqlite3"), FailingDisk(folder)
    orders = orders_for(site, 2)
    people = [Browser("", site.by) for _ in orders]
    database().dump(seen.file)
    changes = {"DATABASE_URL": f"sqlite:///{seen.file}", **disk.environment}
    with running_server(str(folder), processes=2, **changes) as (address, server):
        for browser in people:
            browser.address = address
        at_work = children_of(server.pid)
        with writing(people, orders) as writers:
            for _ in range(times):
                disk.fail(at_work, chance=chance)
                _until(writers, refused(writers) + refusals, count=refused)
                disk.work(at_work)
                before = taken(writers)
                _until(writers, before + 2 * len(writers), count=taken)
                seen.recovered += 1
            assert children_of(server.pid) == at_work, "a process was started anew"
            disk.fail(at_work, chance=chance)
            time.sleep(0.5)
            kill(at_work)
            wait_for_the_end(at_work)
            for writer in writers:
                writer.over.set()
    for writer in writers:
        seen.statuses += writer.statuses
        seen.words.add(writer.words)
        seen.acknowledged += [("received", key) for key in writer.acknowledged]
    return seen


def refused(writers: list[Writer]) -> int:
    return sum(count for writer in writers for status, count in writer.statuses.items() if status != 302)


def taken(writers: list[Writer]) -> int:
    return sum(writer.statuses[302] for writer in writers)


def _until(writers: list[Writer], number: int, *, count) -> None:
    wait_until(lambda: count(writers) >= number or not any(writer.is_alive() for writer in writers))


def wrong_with(seen: Seen) -> list[str]:
    """Return what is wrong with the file; each form that was sent until it was taken is counted once."""
    found = faults(seen.file, seen.acknowledged)
    with closing(sqlite3.connect(seen.file)) as opened:
        (twice,) = opened.execute(
            "SELECT COUNT(*) FROM (SELECT key FROM materials_delivery GROUP BY key HAVING COUNT(*) > 1)"
        ).fetchone()
        (whole,) = opened.execute("PRAGMA integrity_check").fetchone()
    return [*found, *([f"{twice} counted twice"] if twice else []), *([] if whole == "ok" else [whole])]
