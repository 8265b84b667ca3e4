"""Whether a workbook's zip can be opened safely, and the parts of it that are read, within bounds. Pure."""

from __future__ import annotations

import io
import stat
import struct
import zipfile
import zlib
from typing import IO
from xml.parsers import expat

from openings.schedule.limits import (
    MAX_DIRECTORY,
    MAX_MEMBERS,
    MAX_RATIO,
    MAX_UNPACKED,
    unsafe_workbook,
    wrong_type,
)

ZIP_START = b"PK\x03\x04"
_END = b"PK\x05\x06"
_END_SIZE = 22
_ZIP64_LOCATOR = b"PK\x06\x07"
_ZIP64_LOCATOR_SIZE = 20
_ENCRYPTED_FLAG = 0x1
_CHUNK = 64 * 2**10
_METHODS = frozenset({zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED})
_CONTENT_TYPES = "[Content_Types].xml"
# parts that say nothing about a schedule: pictures, themes, links to other files, macros
_SKIPPED = (
    "docProps/", "customXml/", "xl/theme/", "xl/drawings/", "xl/media/", "xl/charts/", "xl/chartsheets/",
    "xl/externalLinks/", "xl/pivotCache/", "xl/pivotTables/", "xl/comments", "xl/threadedComments/",
    "xl/persons/", "xl/ctrlProps/", "xl/printerSettings/", "xl/revisions/", "xl/queryTables/", "xl/tables/",
)  # fmt: skip


class _RootReached(Exception):
    """The XML's first element began without a document type before it."""


def safe_parts(content: bytes) -> dict[str, bytes]:
    """Return the workbook's readable parts, unpacked, by name.

    Raises FileRefused before anything is unpacked where the directory is too long or names what a workbook
    never holds, and while unpacking where the parts are longer than the directory says.
    """
    _check_end_record(content)
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            members = archive.infolist()
            _check_members(members)
            if _CONTENT_TYPES not in archive.NameToInfo:
                raise wrong_type()
            _check_beginnings(archive, members)
            return _unpacked(archive, [member for member in members if _is_read(member.filename)])
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, struct.error, ValueError) as error:
        raise unsafe_workbook() from error


def _check_end_record(content: bytes) -> None:
    """Refuse by the last bytes alone: opening a directory of a million members would take seconds."""
    at = content.rfind(_END, max(0, len(content) - _END_SIZE - 0xFFFF))
    if at < 0 or at + _END_SIZE > len(content):
        raise unsafe_workbook()
    total, directory_size = struct.unpack_from("<HI", content, at + 10)
    locator = content[max(0, at - _ZIP64_LOCATOR_SIZE) : at]
    if total > MAX_MEMBERS or directory_size > MAX_DIRECTORY or locator.startswith(_ZIP64_LOCATOR):
        raise unsafe_workbook()


def _check_members(members: list[zipfile.ZipInfo]) -> None:
    names = {member.filename for member in members}
    if len(members) > MAX_MEMBERS or len(names) != len(members):
        raise unsafe_workbook()
    if sum(member.file_size for member in members) > MAX_UNPACKED:
        raise unsafe_workbook()
    if any(_is_unsafe(member) for member in members):
        raise unsafe_workbook()


def _is_unsafe(member: zipfile.ZipInfo) -> bool:
    name = member.orig_filename.replace("\\", "/")
    return (
        name.startswith("/")
        or ":" in name
        or ".." in name.split("/")
        or "\x00" in name
        or name.lower().endswith((".zip", ".xlsx", ".xlsm", ".xlsb", ".docx", ".jar", ".gz", ".7z", ".rar"))
        or bool(member.flag_bits & _ENCRYPTED_FLAG)
        or stat.S_ISLNK(member.external_attr >> 16)
        or member.compress_type not in _METHODS
        or member.file_size > MAX_RATIO * max(member.compress_size, 1)
    )


def _check_beginnings(archive: zipfile.ZipFile, members: list[zipfile.ZipInfo]) -> None:
    for member in members:
        if member.is_dir():
            continue
        with archive.open(member) as part:
            beginning = part.read(1024)
            if beginning.startswith((ZIP_START, _END)):
                raise unsafe_workbook()
            _check_prolog(beginning, part)


def _check_prolog(beginning: bytes, part: IO[bytes]) -> None:
    """Refuse a document type before the first element: no workbook has one, every entity trick needs one."""
    parser = expat.ParserCreate()
    parser.StartDoctypeDeclHandler = _refuse_doctype
    parser.StartElementHandler = _reach_root
    try:
        while beginning:
            parser.Parse(beginning, False)
            beginning = part.read(_CHUNK)
    except (_RootReached, expat.ExpatError):
        # text that is not XML from its start is refused later by the workbook's own reader, if it is read
        return


def _refuse_doctype(*_declaration: object) -> None:
    raise unsafe_workbook()


def _reach_root(*_element: object) -> None:
    raise _RootReached


def _is_read(name: str) -> bool:
    return name.endswith((".xml", ".rels")) and not name.startswith(_SKIPPED)


def _unpacked(archive: zipfile.ZipFile, members: list[zipfile.ZipInfo]) -> dict[str, bytes]:
    parts = {}
    left = MAX_UNPACKED
    for member in members:
        with archive.open(member) as part:
            parts[member.filename] = _unpacked_part(part, left)
        left -= len(parts[member.filename])
    return parts


def _unpacked_part(part: IO[bytes], most: int) -> bytes:
    """Return the part. Chunks bound the memory, whatever size the directory claims."""
    chunks = []
    while chunk := part.read(_CHUNK):
        most -= len(chunk)
        if most < 0:
            raise unsafe_workbook()
        chunks.append(chunk)
    return b"".join(chunks)
