"""Sealing a backup: AES-256-GCM over pieces of a mebibyte, so that a file of any size is read piece by piece.

Each file has a key of its own, derived from the kept key and a random salt (HKDF, RFC 5869). A piece's nonce
is its number and whether it is the last: pieces that are changed, swapped, missing or cut off are refused.
"""

from __future__ import annotations

import hashlib
import io
import os
from pathlib import Path
from typing import BinaryIO

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF

from config.environment import SHORTEST_KEY
from projects.errors import BadValue

MAGIC = b"lapwise backup 1\n"
NAME_BYTES, SALT_BYTES, TAG_BYTES = 8, 16, 16
PIECE_BYTES = 1024 * 1024
HEADER_BYTES = len(MAGIC) + NAME_BYTES + SALT_BYTES


class Damaged(BadValue):
    """The file is not what a backup wrote: nothing of it is used."""

    def __init__(self) -> None:
        """Say the same whatever is wrong with it."""
        super().__init__(
            problem="The backup is damaged or cut short.", remedy="Take another one: nothing was changed."
        )


def read_key(file: Path) -> bytes:
    """Return the key in a file. Raises BadValue where there is none, or one that is too short."""
    try:
        text = file.read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError) as error:
        raise BadValue(
            problem=f"The key of backups can't be read from {file}.",
            remedy="Put it back, or name its file in BACKUP_KEY_FILE.",
        ) from error
    if len(text) < SHORTEST_KEY:
        raise BadValue(
            problem=f"The key of backups in {file} is too short.",
            remedy=f"Give at least {SHORTEST_KEY} random characters.",
        )
    return text.encode()


class Sealing(io.RawIOBase):
    """Takes what is to be kept, and writes it sealed; `close` writes the end, without which it is damaged."""

    def __init__(self, target: BinaryIO, *, key: bytes) -> None:
        """Write the header."""
        salt = os.urandom(SALT_BYTES)
        self._target, self._waiting, self._number = target, bytearray(), 0
        self._header = MAGIC + _name(key) + salt
        self._cipher = _cipher(key, salt)
        target.write(self._header)

    def writable(self) -> bool:
        """Return that it is written to."""
        return True

    def write(self, given: bytes | bytearray | memoryview) -> int:  # type: ignore[override]
        """Keep the bytes; whole pieces go on."""
        self._waiting += given
        # the last piece may be a full one: it stays until more comes, or nothing more
        while len(self._waiting) > PIECE_BYTES:
            self._seal(bytes(self._waiting[:PIECE_BYTES]), is_last=False)
            del self._waiting[:PIECE_BYTES]
        return len(given)

    def finish(self) -> None:
        """Write the end."""
        self._seal(bytes(self._waiting), is_last=True)
        self._waiting.clear()

    def _seal(self, piece: bytes, *, is_last: bool) -> None:
        self._target.write(self._cipher.encrypt(_nonce(self._number, is_last=is_last), piece, self._header))
        self._number += 1


class Opening(io.RawIOBase):
    """Gives what was sealed. Raises Damaged at the first piece that is not as it was written."""

    def __init__(self, source: BinaryIO, *, key: bytes) -> None:
        """Read the header. Raises Damaged, and BadValue where another key sealed it."""
        self._source, self._number, self._is_over = source, 0, False
        self._header = source.read(HEADER_BYTES)
        self._open = b""
        if len(self._header) < HEADER_BYTES or not self._header.startswith(MAGIC):
            raise Damaged
        name = self._header[len(MAGIC) : len(MAGIC) + NAME_BYTES]
        if name != _name(key):
            raise BadValue(
                problem="The backup was sealed with another key.",
                remedy="Name that key's file in BACKUP_KEY_FILE.",
            )
        self._cipher = _cipher(key, self._header[-SALT_BYTES:])
        self._next = source.read(PIECE_BYTES + TAG_BYTES)

    def readable(self) -> bool:
        """Return that it is read from."""
        return True

    def readinto(self, buffer: memoryview) -> int:  # type: ignore[override]
        """Fill the buffer as far as the next piece goes; 0 at the end."""
        while not self._open and not self._is_over:
            self._open = self._unseal()
        count = min(len(buffer), len(self._open))
        buffer[:count], self._open = self._open[:count], self._open[count:]
        return count

    def _unseal(self) -> bytes:
        piece, self._next = self._next, self._source.read(PIECE_BYTES + TAG_BYTES)
        self._is_over = not self._next
        try:
            opened = self._cipher.decrypt(_nonce(self._number, is_last=self._is_over), piece, self._header)
        except InvalidTag:
            raise Damaged from None
        self._number += 1
        return opened


def _name(key: bytes) -> bytes:
    """Return what a file tells of its key, by which another one is known before anything is tried."""
    return hashlib.sha256(b"lapwise name of a backup's key" + key).digest()[:NAME_BYTES]


def _cipher(key: bytes, salt: bytes) -> AESGCM:
    return AESGCM(HKDF(algorithm=SHA256(), length=32, salt=salt, info=b"lapwise backup").derive(key))


def _nonce(number: int, *, is_last: bool) -> bytes:
    return number.to_bytes(11, "big") + bytes([is_last])
