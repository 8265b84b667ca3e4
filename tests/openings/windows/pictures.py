"""Photos as phones send them, and files that only claim to be photos; all made here, none found elsewhere."""

from __future__ import annotations

import io
import struct
import zlib

from PIL import Image

GPS_TAG, ORIENTATION, MAKE = 0x8825, 0x0112, 0x010F
SCRIPT = b"<script>alert(1)</script>"
MEGABYTE = 1024 * 1024


def jpeg(width=320, height=240, **options) -> bytes:
    out = io.BytesIO()
    Image.radial_gradient("L").resize((width, height)).convert("RGB").save(out, "JPEG", **options)
    return out.getvalue()


def png(width=320, height=240, mode="RGB", **options) -> bytes:
    out = io.BytesIO()
    Image.radial_gradient("L").resize((width, height)).convert(mode).save(out, "PNG", **options)
    return out.getvalue()


def with_place() -> bytes:
    """Return a photo that says where, when turned how, and by which camera it was taken."""
    told = Image.Exif()
    told[ORIENTATION] = 6  # the picture is to be turned a quarter
    told[MAKE] = "Weidenkamera"
    told[GPS_TAG] = {1: "N", 2: (39.0, 44.0, 21.0), 3: "W", 4: (104.0, 59.0, 5.0)}
    return jpeg(exif=told, comment=SCRIPT)


def polyglot() -> bytes:
    """Return bytes that are a picture to one reader and a script to another: GIF89a=..."""
    return b"GIF89a/*" + b"\x00" * 20 + b"*/=1;alert(1)//"


def drawing() -> bytes:
    return b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'


def with_archive() -> bytes:
    """Return a photo with an archive and a script behind its end."""
    return jpeg() + b"PK\x03\x04" + b"\x00" * 200 + SCRIPT


def head_alone(width, height) -> bytes:
    """Return a PNG that says it is this large, and has next to nothing in it."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", zlib.compress(b"\x00" * 9)) + END


def with_swollen_text() -> bytes:
    """Return a small PNG whose text unpacks to 200 MB."""
    packer = zlib.compressobj(9)
    packed = b"".join(packer.compress(b"\x00" * MEGABYTE) for _ in range(200)) + packer.flush()
    whole = png()
    at = 8 + 25  # behind the head
    return whole[:at] + _chunk(b"zTXt", b"Comment\x00\x00" + packed) + whole[at:]


def with_swollen_rows() -> bytes:
    """Return a PNG of 60 x 60 pixels whose rows unpack to 200 MB."""
    packer = zlib.compressobj(9)
    packed = b"".join(packer.compress(b"\x00" * MEGABYTE) for _ in range(200)) + packer.flush()
    head = struct.pack(">IIBBBBB", 60, 60, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", packed) + END


def truncated() -> bytes:
    whole = jpeg(800, 600)
    return whole[: len(whole) // 2]


def heavy() -> bytes:
    """Return a photo of 16 MB: whole, and padded behind its end."""
    return jpeg().ljust(16 * MEGABYTE, b"\x00")


def webp() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (320, 240)).save(out, "WEBP")
    return out.getvalue()


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


END = _chunk(b"IEND", b"")
