"""A photo as it was sent becomes one that is safe to keep: of a known kind, bounded, the picture alone."""

from __future__ import annotations

import io
import secrets
import struct
import threading
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from PIL import Image, ImageFile, ImageOps

from projects.errors import BadValue, PhotoTooLarge

MOST_BYTES = 15 * 1024 * 1024
MOST_PIXELS = 40_000_000
SHORTEST_SIDE, LONGEST_SIDE = 50, 20_000
KEPT_SIDE = 2560
QUALITY = 85
CONTENT_TYPE = "image/jpeg"
LIMITS = "JPEG or PNG, up to 15 MB and 40 megapixels each."
_STARTS = {"JPEG": b"\xff\xd8\xff", "PNG": b"\x89PNG\r\n\x1a\n"}
_STRICT = threading.Lock()  # the decoder's strictness is one for the whole process
# all that the decoder raises for bytes that are no whole picture
_BROKEN = (OSError, ValueError, SyntaxError, EOFError, struct.error, zlib.error)


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture as it is kept: JPEG, upright, at most 2560 pixels a side, under a name drawn by lot."""

    name: str
    content: bytes
    width: int
    height: int


def clean_photo(content: bytes, *, name: str, field: str = "") -> Photo:
    """Return the picture alone, drawn anew: no place, no camera, no comment, nothing after its end.

    The kind is read from the content, never from `name`. Its size is read from the head, before anything is
    unpacked. Raises PhotoTooLarge above 15 MB, BadValue for what is no such picture.
    """
    told = name[-60:] or "The photo"
    if len(content) > MOST_BYTES:
        raise PhotoTooLarge(name=told, field=field)
    kind = next((kind for kind, start in _STARTS.items() if content.startswith(start)), None)
    if kind is None:
        raise BadValue(problem=f"{told} is no JPEG or PNG.", remedy="Send a photo.", field=field)
    try:
        with _whole_pictures_alone(), Image.open(io.BytesIO(content), formats=[kind]) as found:
            _refuse_size(found.size, told=told, field=field)
            found.draft("RGB", (KEPT_SIDE, KEPT_SIDE))
            return _drawn_anew(found)
    except Image.DecompressionBombError as error:
        raise _too_many_pixels(told, field) from error
    except _BROKEN as error:
        raise BadValue(
            problem=f"{told} can't be read to its end.", remedy="Take it again, or send another.", field=field
        ) from error


@contextmanager
def _whole_pictures_alone() -> Iterator[None]:
    """Read strictly: the PDF library, once loaded, lets the decoder take half a picture for a whole one."""
    with _STRICT:
        before = ImageFile.LOAD_TRUNCATED_IMAGES
        ImageFile.LOAD_TRUNCATED_IMAGES = False
        try:
            yield
        finally:
            ImageFile.LOAD_TRUNCATED_IMAGES = before


def _refuse_size(size: tuple[int, int], *, told: str, field: str) -> None:
    if size[0] * size[1] > MOST_PIXELS:
        raise _too_many_pixels(told, field)
    if min(size) < SHORTEST_SIDE or max(size) > LONGEST_SIDE:
        raise BadValue(
            problem=f"{told} is {size[0]} x {size[1]} pixels.",
            remedy=f"Send one of {SHORTEST_SIDE} to {LONGEST_SIDE:,} a side.",
            field=field,
        )


def _too_many_pixels(told: str, field: str) -> BadValue:
    return BadValue(
        problem=f"{told} has more than 40 megapixels.", remedy="Take it at a smaller setting.", field=field
    )


def _drawn_anew(found: Image.Image) -> Photo:
    """Return the picture on a new sheet: what is written beside it stays behind, comment and colours too."""
    found.load()
    found.thumbnail((KEPT_SIDE, KEPT_SIDE))
    upright = ImageOps.exif_transpose(found).convert("RGBA")
    image = Image.new("RGB", upright.size, "white")
    image.paste(upright, mask=upright)
    out = io.BytesIO()
    image.save(out, "JPEG", quality=QUALITY)
    return Photo(f"{secrets.token_hex(16)}.jpg", out.getvalue(), *image.size)
