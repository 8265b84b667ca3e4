#!/usr/bin/env python3
"""Takes a picture of every page into docs/screens/, and of the first pages of a PDF of every kind.

Each page at the desk and on the phone, by day and by night, with the demo and in an empty company, on a
database of its own that is gone afterwards. `screens.py WORD` takes only pages whose name has WORD.
"""

from __future__ import annotations

import io
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import django
from PIL import Image

ROOT = Path(__file__).resolve().parents[2]
SCREENS = ROOT / "docs" / "screens"
TALLEST = 2400  # what a page has below that looks like what is above
COLOURS = 48
PAGES = 3  # of a document: the rest looks like these


def main() -> int:
    """Set the demo up, walk through its pages, and return an exit code."""
    sys.path.insert(0, str(ROOT))
    os.chdir(ROOT)
    with tempfile.TemporaryDirectory(prefix="lapwise-screens-") as folder:
        os.environ.update(
            DJANGO_SETTINGS_MODULE="config.settings.embedded",
            VAR_FOLDER=folder,
            DATABASE_URL=f"sqlite:///{folder}/lapwise.sqlite3",
            DJANGO_ALLOW_ASYNC_UNSAFE="true",
            SITE_URL="https://lapwise.quillmoor.example",  # so that papers show their codes
        )
        os.environ.pop("REDIS_URL", None)
        django.setup()
        take_all(sys.argv[1] if len(sys.argv) > 1 else "")
    print(f"screens: {len(list(SCREENS.iterdir()))} pictures in {SCREENS.relative_to(ROOT)}")
    return 0


def take_all(word: str) -> None:
    """Photograph the demo's pages, the empty company's, and the documents."""
    from django.core.management import call_command

    from tests.browser import chromium, pages, site

    call_command("migrate", verbosity=0)
    firms = {"": site.load_demo(site.this_monday()), "-empty": site.empty()}
    site.make_sheets(firms[""].company)
    if not word:
        shutil.rmtree(SCREENS, ignore_errors=True)
    SCREENS.mkdir(parents=True, exist_ok=True)
    with served() as address, chromium.running() as browser:
        for ending, firm in firms.items():
            album = pages.album(firm)
            for place in [place for place in album if word in place.name]:
                person = firm.people.get(place.role)
                for size in (chromium.DESK, chromium.PHONE):
                    photograph(browser, address, place, person=person, size=size, ending=ending)
    documents(firms[""], word)


def photograph(
    browser: Any, address: str, place: Any, *, person: Any, size: tuple[int, int], ending: str
) -> None:
    """Take one page by day and by night."""
    from tests.browser import chromium

    context = chromium.context(browser, person=person, size=size)
    page = context.new_page()
    page.goto(address + place.address)
    chromium.settle(page)
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        keep(page.screenshot(full_page=True), f"{place.name}{ending}-{size[0]}-{scheme}")
    context.close()


def keep(picture: bytes, name: str) -> None:
    """Write a picture small: no taller than needed, with the few colours that paper and ink have."""
    image = Image.open(io.BytesIO(picture)).convert("RGB")
    image = image.crop((0, 0, image.width, min(image.height, TALLEST)))
    image.quantize(COLOURS, dither=Image.Dither.NONE).save(SCREENS / f"{name}.png", optimize=True)


def documents(firm: Any, word: str) -> None:
    """Draw what waits to be drawn, and take the first pages of the latest document of each kind."""
    from projects import jobs, tasks
    from projects.models import Job

    if shutil.which("pdftoppm") is None:
        print("screens: no pictures of PDFs. As root: apt-get install poppler-utils", file=sys.stderr)
        return
    theirs = Job.objects.filter(company=firm.company).order_by("pk")
    for job in theirs.filter(state=Job.State.QUEUED):
        tasks.run_job(job.pk)
    latest = {job.kind: job for job in theirs.filter(state=Job.State.DONE)}
    for kind in [kind for kind in latest if word in f"pdf-{kind}"]:
        for number, picture in enumerate(first_pages(jobs.path_of(latest[kind])), start=1):
            keep(picture, f"pdf-{kind}-{number}")


def first_pages(document: Path) -> list[bytes]:
    """Return a PDF's first pages as pictures."""
    with tempfile.TemporaryDirectory() as folder:
        drawn = ["pdftoppm", "-png", "-r", "80", "-l", str(PAGES), str(document), f"{folder}/page"]
        subprocess.run(drawn, check=True)
        return [picture.read_bytes() for picture in sorted(Path(folder).iterdir())]


@contextmanager
def served() -> Iterator[str]:
    """Serve the application until the block ends, and give its address."""
    from django.test.testcases import LiveServerThread

    server = LiveServerThread("localhost", lambda handler: handler, connections_override={})  # type: ignore[arg-type]  # it only calls it
    server.daemon = True
    server.start()
    server.is_ready.wait()
    if server.error:
        raise server.error
    try:
        yield f"http://localhost:{server.port}"
    finally:
        server.terminate()
        server.join()


if __name__ == "__main__":
    sys.exit(main())
