"""A disk of three megabytes, in memory: as small as it must be to be full soon."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


def why_not() -> str:
    """Return why no disk can be mounted here, or nothing."""
    if os.geteuid() != 0:
        return "only root may mount a disk of three megabytes"
    return "" if shutil.which("mount") else "there is no mount"


@contextmanager
def a_small_disk(place: Path) -> Iterator[Path]:
    """Mount it for as long as the block lasts."""
    place.mkdir()
    subprocess.run(["mount", "-t", "tmpfs", "-o", "size=3m", "tmpfs", str(place)], check=True)
    try:
        yield place
    finally:
        subprocess.run(["umount", "--lazy", str(place)], check=True)


class Ballast:
    """A file that takes room on a disk until it is thrown off."""

    def __init__(self, disk: Path) -> None:
        self.file = disk / "ballast"

    def leave(self, *, free: int) -> None:
        """Take all the room but so many bytes."""
        room = shutil.disk_usage(self.file.parent).free - free
        self.file.write_bytes(bytes(max(room, 0)))

    def throw_off(self) -> None:
        self.file.unlink()
