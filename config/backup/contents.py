"""What a backup holds: the database, every made file, and a list of both with their SHA-256."""

from __future__ import annotations

import hashlib
import io
import json
import os
import tarfile
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path, PurePosixPath
from typing import Any, BinaryIO

from config.backup.sealing import Damaged, Opening, Sealing

DATABASE, MEDIA, LIST = "database", "media", "list.json"
PIECE_BYTES = 1024 * 1024


@dataclass(frozen=True, slots=True)
class Contents:
    """The list. `tables`: the hash of each table's rows; `files`: that of each made file."""

    made_at: str
    engine: str
    migrations: tuple[str, ...]
    database: str
    tables: Mapping[str, str]
    files: Mapping[str, str]


def pack(target: BinaryIO, *, key: bytes, database: Path, media: Path, told: Mapping[str, Any]) -> Contents:
    """Write a sealed backup; `told` are the fields of its list that are known before."""
    sealing = Sealing(target, key=key)
    with tarfile.open(fileobj=sealing, mode="w|") as tape:
        kept = _put(tape, database, name=DATABASE)
        files = {}
        for path in _files(media):
            name = path.relative_to(media).as_posix()
            try:
                files[name] = _put(tape, path, name=f"{MEDIA}/{name}")
            except FileNotFoundError:
                continue  # a company that was removed meanwhile: the database's copy is older and harmless
        contents = Contents(database=kept, files=files, **told)
        text = json.dumps(asdict(contents)).encode()
        entry = tarfile.TarInfo(LIST)
        entry.size = len(text)
        tape.addfile(entry, io.BytesIO(text))
    sealing.finish()
    return contents


def unpack(file: Path, *, key: bytes, into: Path) -> Contents:
    """Lay a backup out in an empty folder and return its list. Raises Damaged where one byte is another."""
    with file.open("rb") as source:
        opening = Opening(source, key=key)
        try:
            with tarfile.open(fileobj=opening, mode="r|") as tape:
                for entry in tape:
                    _lay_out(tape, entry, into)
            while opening.read(PIECE_BYTES):  # to the end: the last piece says that nothing was cut off
                pass
            contents = _read(into / LIST)
        except (tarfile.TarError, OSError, ValueError, TypeError, KeyError) as error:
            if isinstance(error, OSError) and error.errno is not None:
                raise  # a full disk is no fault of the file
            raise Damaged from error
    if digest(into / DATABASE) != contents.database or laid_out(into) != contents.files:
        raise Damaged
    return contents


def laid_out(folder: Path) -> dict[str, str]:
    """Return the hash of each file that was laid out, by its place below the media folder."""
    media = folder / MEDIA
    return {path.relative_to(media).as_posix(): digest(path) for path in _files(media)}


def digest(path: Path) -> str:
    """Return a file's SHA-256."""
    with path.open("rb") as handle:
        return hashlib.file_digest(handle, "sha256").hexdigest()


class _Hashed(io.RawIOBase):
    """Reads a file and hashes what is read: what is listed is what was kept."""

    def __init__(self, source: BinaryIO) -> None:
        self._source, self.hash = source, hashlib.sha256()

    def read(self, size: int = -1) -> bytes:
        given = self._source.read(size)
        self.hash.update(given)
        return given


def _files(media: Path) -> Iterator[Path]:
    """Yield every finished file; drafts of running jobs begin with a dot."""
    for path in sorted(media.rglob("*")):
        if path.is_file() and not path.name.startswith("."):
            yield path


def _put(tape: tarfile.TarFile, path: Path, *, name: str) -> str:
    with path.open("rb") as handle:
        hashed = _Hashed(handle)
        entry = tarfile.TarInfo(name)
        entry.size = os.fstat(handle.fileno()).st_size
        tape.addfile(entry, hashed)
    return hashed.hash.hexdigest()


def _lay_out(tape: tarfile.TarFile, entry: tarfile.TarInfo, into: Path) -> None:
    name = PurePosixPath(entry.name)
    content = tape.extractfile(entry)
    if content is None or name.is_absolute() or ".." in name.parts:
        raise Damaged
    place = into / name
    place.parent.mkdir(parents=True, exist_ok=True)
    with place.open("wb") as handle:
        while piece := content.read(PIECE_BYTES):
            handle.write(piece)


def _read(file: Path) -> Contents:
    if not file.is_file():
        raise Damaged
    told = json.loads(file.read_text(encoding="utf-8"))
    return Contents(**{**told, "migrations": tuple(told["migrations"])})
