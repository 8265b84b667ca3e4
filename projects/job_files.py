"""Where kept files lie, those of jobs and others: written beside, flushed, then moved in one step."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from django.conf import settings

JOBS, INSTRUCTIONS = KINDS = "jobs", "instructions"


def keep(content: bytes, *, path: str, claim: str) -> None:
    """Put `content` at `path` below the media folder; nobody ever sees half of it."""
    with whole(place_of(path), claim=claim) as handle:
        handle.write(content)


@contextmanager
def whole(place: Path, *, claim: str) -> Iterator[BinaryIO]:
    """Give a draft to write; it is at `place` once the block has ended well, and gone where it has not."""
    place.parent.mkdir(parents=True, exist_ok=True)
    draft = place.with_name(f".{place.stem}.{claim}.part")
    try:
        with draft.open("wb") as handle:
            yield handle
            handle.flush()
            os.fsync(handle.fileno())
        draft.replace(place)
    finally:
        draft.unlink(missing_ok=True)
    _flush_folder(place.parent)


def place_of(path: str) -> Path:
    """Return where a kept file lies, by its path below the media folder."""
    return Path(settings.MEDIA_ROOT, path)


def folder_of(company: int, kind: str = JOBS) -> Path:
    """Return where a company's files of a kind lie: what jobs made, or the sheets it was sent."""
    return Path(settings.MEDIA_ROOT, kind, str(company))


def clear_drafts(path: str) -> None:
    """Remove what killed workers left beside `path`."""
    place = place_of(path)
    for draft in place.parent.glob(f".{place.stem}.*.part"):
        draft.unlink(missing_ok=True)


def _flush_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
