"""Background work: how it is asked for, claimed, carried out, ended, and picked up again after a crash.

The row is the truth. Every step is one conditional UPDATE, so two workers never both believe that a job is
theirs, and delivering a nudge twice changes nothing.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import timedelta
from functools import partial
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import IntegrityError, transaction
from django.db.models import F, Q
from django.utils import timezone

from projects import job_files
from projects.actors import Actor
from projects.errors import AppError, NotThere
from projects.messages import WORDS
from projects.models import Company, Job, OwnedRows
from projects.nudge import broker_is_down, nudge, purge_delivered

__all__ = ["Document", "Run", "broker_is_down", "cancel", "enqueue", "kind", "path_of", "retry", "sweep"]

State = Job.State
LIVE = (State.QUEUED, State.RUNNING, State.DONE)
BACK_IN_THE_QUEUE: dict[str, Any] = {
    "state": State.QUEUED,
    "claim": "",
    "nudged_at": None,
    "progress": 0,
    "progress_text": "",
}


class Superseded(AppError):
    """The job was cancelled or given to another worker: this one stops and writes nothing."""


@dataclass(frozen=True, slots=True)
class Document:
    """A file that a job made. `name` is what a person saves it as."""

    name: str
    content: bytes
    content_type: str = "application/pdf"


Result = Document | Mapping[str, Any] | None
Work = Callable[["Run"], Result]
KINDS: dict[str, Work] = {}


def kind(name: str) -> Callable[[Work], Work]:
    """Register the decorated function of an app's `tasks.py` as what carries out jobs of kind `name`."""

    def register(work: Work) -> Work:
        if KINDS.setdefault(name, work) is not work:
            raise ValueError(f"two functions carry out jobs of kind {name!r}")
        return work

    return register


@dataclass(frozen=True, slots=True)
class Run:
    """A claimed job, as the function that carries it out sees it."""

    job: Job
    claim: str

    @property
    def arguments(self) -> Mapping[str, Any]:
        """Return the ids that the job was asked for with."""
        arguments: Mapping[str, Any] = self.job.arguments
        return arguments

    def tell(self, progress: int, text: str = "") -> None:
        """Show how far it is, in percent, and with what. Raises Superseded where it is no longer ours."""
        self._write(progress=min(max(progress, 0), 99), progress_text=text[:200], heartbeat=timezone.now())

    def beat(self) -> None:
        """Show that the work goes on. Raises Superseded where the job is no longer ours."""
        self._write(heartbeat=timezone.now())

    def finish(self, result: Result) -> None:
        """Keep the result and call the job done. Raises Superseded where the job is no longer ours."""
        if not isinstance(result, Document):
            self._end(State.DONE, progress=100, result=None if result is None else dict(result))
            return
        self.beat()
        path = _place(self.job, result)
        job_files.clear_drafts(path)
        job_files.keep(result.content, path=path, claim=self.claim)
        self._end(
            State.DONE,
            progress=100,
            file_path=path,
            file_name=result.name,
            content_type=result.content_type,
        )

    def fail(self, words: str) -> None:
        """Call the job failed, with the reason that people read. Raises Superseded as above."""
        self._end(State.FAILED, error=words)

    def _end(self, state: str, **values: Any) -> None:
        self._write(state=state, finished_at=timezone.now(), progress_text="", claim="", **values)

    def _write(self, **values: Any) -> None:
        ours = Job.objects.filter(pk=self.job.pk, state=State.RUNNING, claim=self.claim)
        if not ours.update(**values):
            raise Superseded(f"job {self.job.pk} is no longer with this worker")


def enqueue(*, by: Actor, kind: str, arguments: Mapping[str, Any], input_hash: str) -> Job:
    """Return the job for these inputs: one that waits, runs or is done, else a new one, nudged on commit."""
    with transaction.atomic():
        job, is_new = Job.objects.get_or_create(
            company=by.company,
            kind=kind,
            input_hash=input_hash,
            state__in=LIVE,
            defaults={"arguments": dict(arguments), "created_by": by.user, "state": State.QUEUED},
        )
        if is_new:
            _nudge_on_commit(job)
    return job


def claim(job_id: int) -> Run | None:
    """Take a waiting job and return it as a run, or None where it does not wait: done, cancelled, taken."""
    word, now = secrets.token_hex(8), timezone.now()
    waiting = Job.objects.filter(pk=job_id, state=State.QUEUED)
    taken = waiting.update(
        state=State.RUNNING, claim=word, attempts=F("attempts") + 1, started_at=now, heartbeat=now, progress=0
    )
    if not taken:
        return None
    return Run(job=Job.objects.select_related("company", "created_by").get(pk=job_id), claim=word)


def retry(*, by: Actor, job: Job) -> Job:
    """Put a failed or cancelled job back, or return the one that meanwhile does the same work."""
    ended = _own(by, job).filter(state__in=[State.FAILED, State.CANCELLED])
    try:
        with transaction.atomic():
            if ended.update(attempts=0, error="", finished_at=None, **BACK_IN_THE_QUEUE):
                _nudge_on_commit(job)
    except IntegrityError:
        same = {"kind": job.kind, "input_hash": job.input_hash, "state__in": LIVE}
        return Job.objects.of(by.company).get(**same)
    return _own(by, job).get()


def cancel(*, by: Actor, job: Job) -> Job:
    """Stop a job that waits or runs; its worker finds out at its next step and writes nothing."""
    live = _own(by, job).filter(state__in=[State.QUEUED, State.RUNNING])
    live.update(state=State.CANCELLED, claim="", finished_at=timezone.now(), progress_text="")
    return _own(by, job).get()


def latest(*, company: Company, kind: str, input_hash: str) -> Job | None:
    """Return the newest job for these inputs, whatever became of it, None where nobody asked yet."""
    same = Job.objects.of(company).filter(kind=kind, input_hash=input_hash)
    return same.order_by("-pk").first()


def path_of(job: Job) -> Path:
    """Return where a done job's file lies."""
    return Path(settings.MEDIA_ROOT, job.file_path)


@dataclass(frozen=True, slots=True)
class Sweep:
    """What a sweep found: jobs put back, given up, and nudged again."""

    put_back: int
    given_up: int
    nudged: int


def sweep() -> Sweep:
    """Pick up what crashed workers and lost nudges left behind; safe to run at any time, by anybody."""
    now = timezone.now()
    last_sign = now - timedelta(seconds=settings.JOB_STALE_SECONDS)
    stale = Job.objects.filter(state=State.RUNNING, heartbeat__lt=last_sign)
    given_up = stale.filter(attempts__gte=settings.JOB_ATTEMPTS).update(
        state=State.FAILED, claim="", finished_at=now, error=WORDS["job_kept_stopping"]
    )
    put_back = stale.update(**BACK_IN_THE_QUEUE)
    nudged = _nudge_forgotten(now - timedelta(seconds=settings.JOB_NUDGE_AGAIN_SECONDS))
    purge_delivered()
    return Sweep(put_back=put_back, given_up=given_up, nudged=nudged)


def _own(by: Actor, job: Job) -> OwnedRows[Job]:
    if job.company_id != by.company.pk:
        raise NotThere
    return Job.objects.of(by.company).filter(pk=job.pk)


def _nudge_forgotten(before: Any) -> int:
    forgotten = Job.objects.filter(state=State.QUEUED).filter(Q(nudged_at=None) | Q(nudged_at__lt=before))
    nudged = 0
    for job_id in forgotten.order_by("pk").values_list("pk", flat=True):
        if not _nudge(job_id):
            break  # the broker is away: the next sweep tries again
        nudged += 1
    return nudged


def _nudge_on_commit(job: Job) -> None:
    transaction.on_commit(partial(_nudge, job.pk), robust=True)


def _nudge(job_id: int) -> bool:
    if not nudge(job_id):
        return False
    Job.objects.filter(pk=job_id, state=State.QUEUED).update(nudged_at=timezone.now())
    return True


def _place(job: Job, document: Document) -> str:
    # the job's number alone: a second attempt replaces the first one's file instead of lying beside it
    suffix = Path(document.name).suffix
    return f"jobs/{job.company_id}/{job.pk}{suffix}"
