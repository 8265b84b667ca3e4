"""A workbook is a zip: what is in it is looked at before any of it is unpacked."""

from __future__ import annotations

import io
import struct
import tracemalloc
import zipfile

import pytest

from openings.schedule import archive
from openings.schedule.limits import MAX_UNPACKED, NOT_SAFE, WRONG_TYPE, FileRefused
from tests.openings.schedule.builders import (
    assert_not_safe,
    part_of,
    read,
    simple_workbook,
    with_parts,
)

SHEET = "xl/worksheets/sheet1.xml"


def bomb(size: int) -> bytes:
    """Return a workbook whose sheet unpacks to `size` bytes of blanks."""
    written = io.BytesIO(simple_workbook())
    source = part_of(written.getvalue(), SHEET)
    head, tail = source.split(b"</sheetData>")
    return with_parts(written.getvalue(), {SHEET: head + b" " * size + b"</sheetData>" + tail}, level=9)


def test_ratio_above_a_hundred_is_refused_before_unpacking() -> None:
    content = bomb(5_000_000)
    assert len(content) < 30_000

    tracemalloc.start()
    assert_not_safe(content)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()

    assert peak < 4_000_000  # nothing of the five million was unpacked


def test_more_than_fifty_megabytes_are_refused_before_unpacking() -> None:
    chunk = bytes(range(256)) * 4096
    parts = {f"xl/media/{number}.bin": chunk for number in range(MAX_UNPACKED // len(chunk) + 1)}
    content = with_parts(simple_workbook(), parts, level=1)
    # the repeating chunk packs by about a hundred; whichever limit speaks first, it is refused
    assert len(content) < 20 * 2**20

    assert_not_safe(content)


def test_more_than_a_thousand_members_are_refused() -> None:
    many = {f"xl/x{number}.bin": b"x" for number in range(1000)}
    fewer = dict(list(many.items())[:900])

    assert_not_safe(with_parts(simple_workbook(), many))
    assert read(with_parts(simple_workbook(), fewer)).problems == ()


def test_directory_of_a_hundred_thousand_members_is_not_even_opened(monkeypatch: pytest.MonkeyPatch) -> None:
    content = bytearray(simple_workbook())
    end = content.rfind(b"PK\x05\x06")
    struct.pack_into("<HHI", content, end + 8, 5, 5, 18 * 2**20)  # few members, but a directory of 18 MB

    def never(*_arguments: object, **_options: object) -> None:
        raise AssertionError("the directory was opened")

    monkeypatch.setattr(archive.zipfile, "ZipFile", never)
    with pytest.raises(FileRefused) as refused:
        archive.safe_parts(bytes(content))

    assert refused.value.kind == NOT_SAFE


def test_zip64_locator_before_the_end_is_refused() -> None:
    content = simple_workbook()
    end = content.rfind(b"PK\x05\x06")
    locator = b"PK\x06\x07" + struct.pack("<IQI", 0, 0, 1)

    assert_not_safe(content[:end] + locator + content[end:])


@pytest.mark.parametrize(
    "name",
    ["xl/inner.zip", "xl/embeddings/Book1.xlsx", "../evil.xml", "xl/../../evil.xml", "/etc/passwd",
     "C:/evil.xml", "xl\\..\\evil.xml"],
)  # fmt: skip
def test_nested_or_escaping_member_is_refused(name: str) -> None:
    assert_not_safe(with_parts(simple_workbook(), {name: b"x"}))


def test_nested_zip_under_an_innocent_name_is_refused() -> None:
    assert_not_safe(with_parts(simple_workbook(), {"xl/media/image1.png": simple_workbook()}))


def rewritten(content: bytes, **changes: int) -> bytes:
    """Return the workbook with attributes of its first member's directory entry changed."""
    changed = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(content)) as old,
        zipfile.ZipFile(changed, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for index, name in enumerate(old.namelist()):
            member = zipfile.ZipInfo(name)
            member.compress_type = zipfile.ZIP_DEFLATED
            for attribute, value in changes.items() if index == 0 else ():
                setattr(member, attribute, value)
            new.writestr(member, old.read(name))
    return changed.getvalue()


def test_symlink_is_refused() -> None:
    assert_not_safe(rewritten(simple_workbook(), external_attr=0o120777 << 16))
    assert read(rewritten(simple_workbook(), external_attr=0o100644 << 16)).problems == ()


def test_encrypted_member_is_refused() -> None:
    content = bytearray(simple_workbook())
    entry = content.find(b"PK\x01\x02")
    content[entry + 8] |= 1  # the directory's flag: encrypted

    assert_not_safe(bytes(content))


def test_workbook_locked_with_a_password_is_refused() -> None:
    assert_not_safe(
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\x00" * 600 + "EncryptedPackage".encode("utf-16-le")
    )


def test_two_members_of_one_name_are_refused() -> None:
    written = io.BytesIO(simple_workbook())
    with zipfile.ZipFile(written, "a") as twice, pytest.warns(UserWarning, match="Duplicate"):
        twice.writestr(SHEET, b"<worksheet/>")

    assert_not_safe(written.getvalue())


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_unusual_packing_is_refused(method: int) -> None:
    written = io.BytesIO(simple_workbook())
    with zipfile.ZipFile(written, "a", method) as more:
        more.writestr("xl/extra.xml", b"<x/>")

    assert_not_safe(written.getvalue())


def lying(content: bytes, name: str, claimed: int) -> bytes:
    """Return the workbook with the unpacked size of a member understated in both of its headers."""
    changed = bytearray(content)
    with zipfile.ZipFile(io.BytesIO(content)) as old:
        local = old.getinfo(name).header_offset
    struct.pack_into("<I", changed, local + 22, claimed)
    entry = changed.find(name.encode(), changed.find(b"PK\x01\x02")) - 46
    struct.pack_into("<I", changed, entry + 24, claimed)
    return bytes(changed)


def test_lying_header_is_stopped_while_reading() -> None:
    content = lying(bomb(100_000_000), SHEET, 20_000)

    tracemalloc.start()
    assert_not_safe(content)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()

    assert peak < 20 * 2**20  # of a hundred million bytes


def test_negative_control_the_bomb_would_unpack_without_the_check() -> None:
    content = bomb(5_000_000)

    with zipfile.ZipFile(io.BytesIO(content)) as unguarded:
        assert len(unguarded.read(SHEET)) > 5_000_000


@pytest.mark.parametrize("cut", [30, 200, 1000])
def test_torn_workbook_is_refused(cut: int) -> None:
    assert_not_safe(simple_workbook()[:-cut])


def test_zip_that_is_no_workbook_is_of_the_wrong_type() -> None:
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w") as other:
        other.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        other.writestr("content.xml", "<x/>")

    assert read(written.getvalue(), filename="a.xlsx").refusal == WRONG_TYPE
    assert read(b"PK\x05\x06" + b"\x00" * 18, filename="a.xlsx").refusal in (NOT_SAFE, WRONG_TYPE)
