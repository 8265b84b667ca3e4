"""How long the preview of a window schedule of 10,000 rows takes, and how much memory."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from openpyxl import Workbook

from config.benches.figure import Figure
from config.benches.machine import Spent, megabytes_on_top, spent
from config.benches.office import founded, house, project, signed_in
from config.benches.windows import COLUMNS, Row, as_csv, houses
from projects.models import House

SEED = 4
SMALL, LARGE = 100, 10_000
EVERY_BAD = 5  # one row in five has a size that no tape measure shows
BAD = "36 1/3"


def measure(kind: str, *, small: bool) -> Iterator[Figure]:
    """Send a schedule of a kind, `csv` or `xlsx`, and open its preview; a fifth of the rows is bad.

    A small one went before, so that only the file's own size counts.
    """
    # made by another process, for memory that was used once hides what is used later
    with ProcessPoolExecutor(1, mp_context=get_context("fork")) as elsewhere:
        first, content = elsewhere.map(made, (kind, kind), (SMALL, SMALL if small else LARGE))
    by = founded()
    client = signed_in(by)
    (plan,) = houses(1, openings=40, sizes=40, seed=SEED)
    lot = house(by, project(by, plans=[], houses=0, code="P"), plan, code="LOT")
    preview(client, lot, f"small.{kind}", first)
    took: list[Spent] = []

    def work() -> None:
        took.append(spent(preview, client, lot, f"lot.{kind}", content))

    megabytes = megabytes_on_top(work)
    told = f"preview of {SMALL if small else LARGE:,} rows, {kind}"
    yield Figure.of_time(told, took[0], 10)
    yield Figure(told, megabytes, "MB on top", 150)


def made(kind: str, count: int) -> bytes:
    """Return a window schedule of so many rows, one in five of them bad."""
    (rows,) = houses(1, openings=count, sizes=count, seed=SEED)
    for number in range(0, count, EVERY_BAD):
        rows[number]["unit_width"] = BAD
    return KINDS[kind](rows)


def preview(client: Client, lot: House, name: str, content: bytes) -> None:
    """Send the file and open its preview."""
    sent = {"schedule": SimpleUploadedFile(name, content)}
    answer = client.post(reverse("schedule-send", args=[lot.pk]), sent, follow=True)
    if answer.status_code != 200 or "/schedules/" not in answer.request["PATH_INFO"]:
        raise ValueError(f"{name} was answered {answer.status_code}")


def as_workbook(rows: list[Row]) -> bytes:
    """Return a workbook of the rows."""
    workbook, written = Workbook(write_only=True), io.BytesIO()
    sheet = workbook.create_sheet("Windows")
    sheet.append(COLUMNS)
    for row in rows:
        sheet.append([row.get(name, "") for name in COLUMNS])
    workbook.save(written)
    return written.getvalue()


KINDS: Mapping[str, Callable[[list[Row]], bytes]] = {"csv": as_csv, "xlsx": as_workbook}
