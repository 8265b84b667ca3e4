"""A document opens nothing but data URLs and our own static files, and says what it is."""

from __future__ import annotations

import re
import socketserver
import subprocess
import sys
import threading
from base64 import b64decode
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from django.conf import settings

from projects import pdf

SECRET = "the key under the mat"
PIXEL = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="


class Sentinel(socketserver.ThreadingTCPServer):
    """Counts who connects."""

    allow_reuse_address = True
    daemon_threads = True

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), socketserver.BaseRequestHandler)
        self.connections = 0

    def process_request(self, request: object, client_address: object) -> None:
        self.connections += 1
        self.shutdown_request(request)

    @property
    def port(self) -> int:
        return self.server_address[1]


@pytest.fixture
def sentinel() -> Iterator[Sentinel]:
    with Sentinel() as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server
        server.shutdown()


@pytest.fixture
def secret_file(tmp_path: Path) -> Path:
    file = tmp_path / "secret.txt"
    file.write_text(SECRET)
    return file


def page(body: str, head: str = "") -> str:
    return f'<html lang="en"><head><title>Order</title>{head}</head><body><h1>Order</h1>{body}</body></html>'


def hostile(port: int, secret: Path) -> list[str]:
    """Return ways to fetch from a loopback server or to read a file, as a document might carry them."""
    web = f"http://127.0.0.1:{port}"
    addresses = [
        f"{web}/a.png",
        f"http://[::1]:{port}/a.png",
        f"http://localhost:{port}/a.png",
        f"http://0x7f000001:{port}/a.png",
        f"http://2130706433:{port}/a.png",
        f"//127.0.0.1:{port}/a.png",
        "http://169.254.169.254/latest/meta-data",
        f"ftp://127.0.0.1:{port}/a.png",
        secret.as_uri(),
        f"FILE://{secret}",
        "file:///etc/passwd",
        "/etc/passwd",
        f"/static/../../..{secret}",
        f"/static/css/..%2f..%2f..{secret}",
    ]
    forms = [
        "<img src='{}'>",
        "<svg><image href='{}'/></svg>",
        "<object data='{}'></object>",
        "<a rel=attachment href='{}'>take</a>",
        "<link rel=stylesheet href='{}'>",
        "<link rel=attachment href='{}'>",
        "<style>@import '{}';</style>",
        "<p style='background: url({})'>logo</p>",
    ]
    ways = [page("".join(form.format(url) for url in addresses)) for form in forms]
    fonts = "".join(f"@font-face {{ font-family: X; src: url('{url}') }}" for url in addresses)
    ways.append(page("<p style='font-family: X'>logo</p>", f"<style>{fonts}</style>"))
    return ways


def embedded_files(content: bytes) -> list[bytes]:
    with pikepdf.open(BytesIO(content)) as document:
        return [document.attachments[name].get_file().read_bytes() for name in document.attachments]


def pictures(content: bytes) -> int:
    with pikepdf.open(BytesIO(content)) as document:
        return sum(len(page.get_images()) for page in document.pages)


def test_document_opens_no_address_and_no_file(sentinel: Sentinel, secret_file: Path) -> None:
    drawn = [pdf.pdf_of(html) for html in hostile(sentinel.port, secret_file)]

    assert sentinel.connections == 0
    assert [embedded_files(content) for content in drawn] == [[]] * len(drawn)
    assert not any(SECRET.encode() in content for content in drawn)


def test_without_the_fetcher_the_same_documents_do_open_them(sentinel: Sentinel, secret_file: Path) -> None:
    """Negative control: the payloads are real; only the fetcher stands between them and the network."""
    import weasyprint

    picture = page(f"<img src='http://127.0.0.1:{sentinel.port}/a.png'>")
    attachment = page("", f"<link rel=attachment href='{secret_file.as_uri()}'>")

    weasyprint.HTML(string=picture).write_pdf()
    content = weasyprint.HTML(string=attachment).write_pdf()

    assert sentinel.connections >= 1
    assert embedded_files(content) == [SECRET.encode()]


def test_data_urls_are_drawn() -> None:
    content = pdf.pdf_of(page(f"<img alt='dot' src='data:image/png;base64,{PIXEL}'>"))

    assert pictures(content) == 1


def test_picture_on_this_disk_is_not_drawn(tmp_path: Path) -> None:
    import weasyprint

    file = tmp_path / "site.png"
    file.write_bytes(b64decode(PIXEL))
    html = page(f"<img alt='site' src='{file.as_uri()}'>")

    content = pdf.pdf_of(html)

    assert pictures(content) == 0
    assert pictures(weasyprint.HTML(string=html).write_pdf()) == 1  # negative control: it can be drawn


def test_own_static_files_are_found_by_their_exact_path_only() -> None:
    known = [url for url in pdf._static_files() if "/css/" in url]

    assert known
    for url in known:
        assert pdf.file_for(url).is_file()
    for url in [
        "https://document.invalid/static/css/",
        "https://document.invalid/static/css/../../manage.py",
    ]:
        with pytest.raises(pdf.Refused):
            pdf.file_for(url)


def test_files_that_the_documents_name_are_all_found() -> None:
    documents = settings.ROOT / "templates" / "documents"
    named = {
        name
        for page in documents.glob("*.html")
        for name in re.findall(r'"/(static/[^"]+)"', page.read_text())
    }

    assert named
    assert all(pdf.file_for(pdf.BASE + name).is_file() for name in named)


def test_document_is_tagged_and_declares_what_it_is() -> None:
    content = pdf.pdf_of(page("<table><tr><th scope=col>Roll</th></tr><tr><td>75 ft</td></tr></table>"))

    with pikepdf.open(BytesIO(content)) as document:
        assert document.Root.Lang == "en"
        assert document.Root.MarkInfo.Marked
        assert document.Root.ViewerPreferences.DisplayDocTitle
        assert document.docinfo["/Title"] == "Order"
        assert b"pdfuaid" in document.Root.Metadata.read_bytes()


def test_missing_drawing_libraries_are_named_with_the_packages() -> None:
    # a fresh process in which no shared library can be opened, as on a machine without them
    script = """
import os, django
os.environ["DJANGO_SETTINGS_MODULE"] = "config.settings.test"
django.setup()
import cffi
def cannot(*_, **__): raise OSError("cannot load library 'libpango-1.0-0'")
cffi.FFI.dlopen = cannot
from projects import pdf
from projects.messages import words
try:
    pdf.pdf_of("<p>")
except pdf.PdfUnavailable as refusal:
    print(words(refusal))
"""

    told = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True).stdout

    assert "apt-get install libpango-1.0-0 libpangoft2-1.0-0" in told


def test_importing_the_module_does_not_load_the_library() -> None:
    script = "import sys, projects.pdf; print('weasyprint' in sys.modules)"

    told = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True).stdout

    assert told.strip() == "False"
