"""Where a finished job's file lies: written beside its place, flushed, then moved there in one step."""

from __future__ import annotations

import os
from pathlib import Path

from django.conf import settings


def keep(content: bytes, *, path: str, claim: str) -> None:
    """Put `content` at `path` below the media folder; nobody ever sees half of it."""
    place = Path(settings.MEDIA_ROOT, path)
    place.parent.mkdir(parents=True, exist_ok=True)
    draft = place.with_name(f".{place.stem}.{claim}.part")
    try:
        with draft.open("wb") as handle:
            handle.write(content)
            handle.flush()
            os.fsync(handle.fileno())
        draft.replace(place)
    finally:
        draft.unlink(missing_ok=True)
    _flush_folder(place.parent)


def folder_of(company: int) -> Path:
    """Return where the files of a company's jobs lie."""
    return Path(settings.MEDIA_ROOT, "jobs", str(company))


def clear_drafts(path: str) -> None:
    """Remove what killed workers left beside `path`."""
    place = Path(settings.MEDIA_ROOT, path)
    for draft in place.parent.glob(f".{place.stem}.*.part"):
        draft.unlink(missing_ok=True)


def _flush_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
