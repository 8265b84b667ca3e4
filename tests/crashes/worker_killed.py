"""R9: the worker is killed while it draws a PDF and drafts a large week; the next one does both, once."""

from __future__ import annotations

import shutil
import time
from pathlib import Path

from django.conf import settings

from materials.models import Coverage, PurchaseOrder
from materials.services import discard_draft
from materials.services.drafting import AT_ONCE, request_drafts
from materials.services.issuing import request_pdf
from projects.models import Job
from tests.materials.orders.building import build
from tests.projects.jobs.workers import a_worker, wait_until

LONGEST_SECONDS = 120


def large_week(site) -> None:
    """Want a house of more openings than are drafted while a person waits."""
    rows = "".join(f"Front,W{number},{20 + number % 40},48\n" for number in range(AT_ONCE + 1))
    build(site.by, code="LARGE", schedule=f"elevation,mark,unit_width,unit_height\n{rows}".encode())


def kill_so_often(site, dice, *, times: int) -> None:
    """Kill it at a random moment so often; the next worker ends both within two minutes, each once."""
    draft = site.draft()
    large_week(site)
    for number in range(times):
        shutil.rmtree(settings.MEDIA_ROOT, ignore_errors=True)
        Job.objects.all().delete()
        pdf = request_pdf(by=site.by, order=draft)
        assert request_drafts(by=site.by, week=site.monday, key=f"form-{number}")
        with a_worker() as first:
            wait_until(lambda: Job.objects.filter(state="running").exists())
            time.sleep(dice.uniform(0, 2))
            first.kill()
        with a_worker():
            wait_until(_both_are_done, seconds=LONGEST_SECONDS)
        pdf.refresh_from_db()
        assert [file.name for file in whole_files()] == [Path(pdf.file_path).name]
        assert all(job.attempts <= 2 for job in Job.objects.all())
        (made,) = PurchaseOrder.objects.exclude(pk=draft.pk)
        covered = Coverage.objects.filter(line__order=made).values_list("opening", "material")
        assert len(set(covered)) == len(covered)
        assert len({opening for opening, _ in covered}) == AT_ONCE + 1
        discard_draft(by=site.by, order=made)


def _both_are_done() -> bool:
    whole_files()
    assert not Job.objects.filter(state="failed").exists()
    return Job.objects.filter(state="done").count() == 2


def whole_files() -> list[Path]:
    """Return the files that may be served; at no moment is one of them half written."""
    files = [path for path in Path(settings.MEDIA_ROOT).rglob("[!.]*") if path.is_file()]
    for file in files:
        content = file.read_bytes()
        assert content.startswith(b"%PDF"), "half a file"
        assert content.rstrip().endswith(b"%%EOF"), "half a file"
    return files
