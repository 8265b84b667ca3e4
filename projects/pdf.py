"""Draws a template as a PDF. The only place that knows the library, and it lets it open nothing.

A document may refer to `data:` URLs and, as `/static/...`, to the files of our own `static` folder.
Everything else, be it on a network or on this disk, is refused before it is opened: a crew's name or a logo's
address must not fetch or embed anything.
"""

from __future__ import annotations

import gc
import mimetypes
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

from django.conf import settings
from django.template.loader import render_to_string

from projects.errors import UserError

PACKAGES = "libpango-1.0-0 libpangoft2-1.0-0"
# Documents are read as if they lay here; the name can never resolve, and nobody asks it to.
BASE = "https://document.invalid/"
SIZES = {"letter": "letter", "a4": "A4"}
"""What CSS Paged Media calls the papers that a company can choose."""
DRAWABLE = ("css", "fonts", "images")


class PdfUnavailable(UserError):
    """This machine lacks the libraries that draw text."""

    code = "pdf_unavailable"
    status = 503


class Refused(ValueError):
    """The document asked for something that it may not open."""


def render_pdf(template: str, context: Mapping[str, Any], paper: str = "letter") -> bytes:
    """Return `template` filled with `context` as a tagged PDF on `paper` that declares PDF/UA-1.

    The template gives `lang` and `title`; both end in the file. Raises PdfUnavailable.
    """
    return pdf_of(render_to_string(template, dict(context)), paper)


def pdf_of(html: str, paper: str = "letter") -> bytes:
    """Return an HTML text as such a PDF. Raises PdfUnavailable."""
    library = _library()
    document = library.HTML(string=html, base_url=BASE, url_fetcher=_fetcher())
    # the size is said here alone: no document's own style knows it
    size = library.CSS(string=f"@page {{ size: {SIZES[paper]} }}")
    with _no_search_for_garbage():
        pdf: bytes = document.write_pdf(stylesheets=[size], pdf_variant="pdf/ua-1", pdf_tags=True)
    return pdf


@contextmanager
def _no_search_for_garbage() -> Iterator[None]:
    """Keep the collector from searching meanwhile: a quarter of a sheet's time.

    All that a document is made of refers to each other and lives until it is written.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def file_for(url: str) -> Path:
    """Return the file of ours that `url` stands for. Raises Refused for every other URL."""
    try:
        return _static_files()[url]
    except KeyError:
        raise Refused(f"a document may not open {url[:200]}") from None


def _library() -> ModuleType:
    try:
        import weasyprint
    except OSError as reason:  # raised while it looks for libpango
        raise PdfUnavailable(packages=PACKAGES) from reason
    return weasyprint


@cache
def _fetcher() -> Any:
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class OurFilesOnly(URLFetcher):
        """Opens `data:` by itself and our files by the map; it has no way to open anything else."""

        def fetch(self, url: str, headers: Any = None) -> Any:
            """Return the answer for one URL."""
            if url.lower().startswith("data:"):
                return super().fetch(url, headers)
            file = file_for(url)
            kind = mimetypes.guess_type(file.name)[0] or "application/octet-stream"
            return URLFetcherResponse(url, file.read_bytes(), {"Content-Type": kind})

    return OurFilesOnly(allowed_protocols={"data"}, allow_redirects=False)


@cache
def _static_files() -> dict[str, Path]:
    root = settings.ROOT / "static"
    files = (file for folder in DRAWABLE for file in sorted((root / folder).rglob("*")) if file.is_file())
    return {f"{BASE}static/{file.relative_to(root).as_posix()}": file for file in files}
