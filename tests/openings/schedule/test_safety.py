"""Unsafe workbooks: zip bombs, lying headers, entities, encryption; all refused before they do harm."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer

import pytest

from openings.schedule import workbook
from openings.schedule.limits import NOT_SAFE
from tests.openings.schedule.builders import (
    RAW_ROWS,
    RAW_STRINGS,
    assert_not_safe,
    part_of,
    raw_workbook,
    read,
    simple_workbook,
    with_parts,
)

SHEET = "xl/worksheets/sheet1.xml"


STRINGS = "xl/sharedStrings.xml"


DTD = b'<!DOCTYPE r [<!ENTITY e "x">]>'


class Sentinel(BaseHTTPRequestHandler):
    """Counts who comes to fetch an external entity."""

    hits = 0

    def do_GET(self) -> None:
        type(self).hits += 1
        self.send_response(404)
        self.end_headers()


@pytest.fixture
def sentinel() -> Iterator[str]:
    server = HTTPServer(("127.0.0.1", 0), Sentinel)
    Sentinel.hits = 0
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/x.dtd"
    server.shutdown()
    server.server_close()


def with_prolog(content: bytes, part: str, doctype: bytes) -> bytes:
    source = part_of(content, part)
    start = source.index(b"?>") + 2 if source.startswith(b"<?xml") else 0
    return with_parts(content, {part: source[:start] + doctype + source[start:]})


@pytest.mark.parametrize(
    "part",
    [
        SHEET,
        STRINGS,
        "xl/workbook.xml",
        "xl/styles.xml",
        "[Content_Types].xml",
        "_rels/.rels",
        "docProps/core.xml",
        "xl/theme/theme1.xml",
    ],
)
def test_document_type_in_any_part_is_refused(part: str) -> None:
    content = raw_workbook(RAW_ROWS, RAW_STRINGS) if part == STRINGS else simple_workbook()

    assert_not_safe(with_prolog(content, part, DTD))


def test_entities_of_every_kind_are_refused_and_fetch_nothing(sentinel: str) -> None:
    address = sentinel.encode()
    kinds = [
        b'<!DOCTYPE r [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;">]>',
        b'<!DOCTYPE r [<!ENTITY e SYSTEM "file:///etc/passwd">]>',
        b'<!DOCTYPE r [<!ENTITY e SYSTEM "' + address + b'">]>',
        b'<!DOCTYPE r [<!ENTITY % p SYSTEM "' + address + b'"> %p;]>',
        b'<!DOCTYPE r SYSTEM "' + address + b'">',
        b'<!DOCTYPE r PUBLIC "x" "' + address + b'">',
        b"<!DOCTYPE r>",
        b"<!-- first a comment --> <?pi?> <!DOCTYPE r []>",
    ]

    for kind in kinds:
        assert_not_safe(with_prolog(simple_workbook(), SHEET, kind))
    assert Sentinel.hits == 0


@pytest.mark.parametrize("codec", ["utf-16", "utf-16-le", "utf-16-be"])
def test_document_type_hidden_in_another_encoding_is_refused(codec: str) -> None:
    hidden = ('<?xml version="1.0" encoding="utf-16"?>' + DTD.decode() + "<worksheet/>").encode(codec)

    reading = read(with_parts(simple_workbook(), {SHEET: hidden}))

    assert reading.refusal == NOT_SAFE


def test_without_defusedxml_no_workbook_is_read_at_all() -> None:
    """Negative control: the guard works at import, so an installation without it cannot start."""
    code = "import openings.schedule.workbook"
    blocked = "import sys; sys.modules['defusedxml'] = None; " + code

    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
    without = subprocess.run([sys.executable, "-c", blocked], capture_output=True, check=False, text=True)
    assert without.returncode != 0
    assert "defusedxml is not installed" in without.stderr


def test_negative_control_the_same_workbook_without_a_document_type_is_read() -> None:
    assert read(with_prolog(simple_workbook(), SHEET, b"<!-- nothing -->")).problems == ()


def test_row_beyond_the_last_of_a_spreadsheet_is_refused_at_once() -> None:
    sheet = part_of(simple_workbook(), SHEET).replace(b'<row r="2"', b'<row r="2000000000"')

    reading = read(with_parts(simple_workbook(), {SHEET: sheet}))

    assert reading.openings == ()
    assert "50,000 rows" in reading.problems[0].remedy


@pytest.mark.parametrize(
    "filler", [b"<c ", b'<c r="A1"', b'<mergeCell ref="A1', b"<mergeCell ", b"<a:" + b"b" * 500]
)
def test_patterns_over_broken_sheets_stay_linear(filler: bytes) -> None:
    """Two million bytes of near misses: a pattern that backtracks would not come back."""
    source = b"<worksheet><sheetData/>" + filler * (2_000_000 // len(filler))

    assert workbook.merged_downwards(source) == {}
