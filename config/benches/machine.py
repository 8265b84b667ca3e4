"""What a piece of work takes of the machine: seconds and memory."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, ParamSpec

Given = ParamSpec("Given")

PROCESS = Path("/proc/self")


@dataclass(frozen=True, slots=True)
class Spent:
    """Seconds of work: those that one core was busy with it, and those by the clock on the wall.

    Our work waits for nobody, so on an idle machine both are the same; what others do meanwhile counts
    against the wall alone.
    """

    cpu: float
    wall: float

    @classmethod
    def least(cls, tries: Sequence[Spent]) -> Spent:
        """Return the try that kept the core busy least."""
        return min(tries, key=lambda each: each.cpu)

    @classmethod
    def middle(cls, tries: Sequence[Spent]) -> Spent:
        """Return the try in the middle."""
        return sorted(tries, key=lambda each: each.cpu)[len(tries) // 2]


def spent(work: Callable[Given, Any], *args: Given.args, **options: Given.kwargs) -> Spent:
    """Return what `work` takes."""
    gc.collect()  # what was left behind before is not this work's
    cpu, wall = time.process_time(), time.perf_counter()
    work(*args, **options)
    return Spent(time.process_time() - cpu, time.perf_counter() - wall)


def megabytes_on_top(work: Callable[Given, Any], *args: Given.args, **options: Given.kwargs) -> float:
    """Return by how much `work` raises the memory of this process at its highest, over what it holds before.

    Source: proc(5), `clear_refs` 5 forgets the highest so far, VmHWM of `status` tells it.
    """
    gc.collect()
    (PROCESS / "clear_refs").write_text("5", encoding="ascii")
    before = _highest_kilobytes()
    work(*args, **options)
    return (_highest_kilobytes() - before) / 1024


def _highest_kilobytes() -> int:
    told = (PROCESS / "status").read_text(encoding="ascii").partition("VmHWM:")[2]
    return int(told.split()[0])
