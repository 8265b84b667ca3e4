"""Killing programs as a power cut would: at once, without a word."""

from __future__ import annotations

import os
import signal
import time
from contextlib import suppress
from pathlib import Path


def children_of(parent: int) -> list[int]:
    """Return the processes that a process started, as the system lists them."""
    found = []
    for listed in Path("/proc").glob("[0-9]*"):
        with suppress(OSError):  # it may end while it is read
            if (listed / "stat").read_text().rpartition(")")[2].split()[1] == str(parent):
                found.append(int(listed.name))
    return found


def kill(numbers: list[int]) -> None:
    for number in numbers:
        with suppress(ProcessLookupError):
            os.kill(number, signal.SIGKILL)


def wait_for_the_end(numbers: list[int]) -> None:
    """Return once none of the processes runs any more."""
    while any(_runs(number) for number in numbers):
        time.sleep(0.01)


def _runs(number: int) -> bool:
    try:
        told = Path(f"/proc/{number}/stat").read_text()
    except OSError:
        return False
    return told.rpartition(")")[2].split()[0] not in {"Z", "X"}
