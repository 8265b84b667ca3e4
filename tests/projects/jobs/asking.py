"""What the tests of jobs say over and over."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from django.utils import timezone

from projects import jobs
from projects.models import Job

PDF = b"%PDF-1.7 four rolls"


def ask(by, *, kind="order", input_hash="a1", **arguments):
    return jobs.enqueue(by=by, kind=kind, arguments=arguments, input_hash=input_hash)


def a_pdf(run):
    return jobs.Document(name="order-2026-014.pdf", content=PDF)


def age(job, *, seconds):
    Job.objects.filter(pk=job.pk).update(heartbeat=timezone.now() - timedelta(seconds=seconds))


def files_below(folder):
    return sorted(path for path in Path(folder).rglob("*") if path.is_file())
