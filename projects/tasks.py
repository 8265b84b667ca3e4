"""What the worker runs: one task for every kind of job, and the sweep."""

from __future__ import annotations

import errno
import logging
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from celery import shared_task
from django.conf import settings
from django.db import DatabaseError, connection

from projects import jobs, request_id
from projects.errors import UserError
from projects.messages import WORDS, words

log = logging.getLogger("lapwise.jobs")


@shared_task(name="projects.run_job")
def run_job(job_id: int) -> None:
    """Carry out a job, whatever its kind; a second delivery finds it taken and does nothing."""
    run = jobs.claim(job_id)
    if run is None:
        return
    with request_id.belonging_to(f"job-{job_id}"), beating(run):
        try:
            _carry_out(run)
        except jobs.Superseded as reason:
            log.info("%s", reason)


@shared_task(name="projects.sweep_jobs")
def sweep_jobs() -> None:
    """Pick up what crashed workers left behind."""
    found = jobs.sweep()
    if found.put_back or found.given_up:
        log.warning("put %s stopped jobs back, gave up %s", found.put_back, found.given_up)


def _carry_out(run: jobs.Run) -> None:
    try:
        result = jobs.KINDS[run.job.kind](run)
        run.finish(result)
    except UserError as refusal:
        run.fail(words(refusal))
    except jobs.Superseded:
        raise
    except Exception as error:
        log.exception("job %s of kind %s broke", run.job.pk, run.job.kind)
        full = isinstance(error, OSError) and error.errno in {errno.ENOSPC, errno.EDQUOT}
        run.fail(WORDS["job_disk_full" if full else "job_broke"])


@contextmanager
def beating(run: jobs.Run) -> Iterator[None]:
    """Keep the job's heartbeat fresh from a thread while long steps say nothing themselves."""
    if not settings.JOB_HEARTBEAT_SECONDS:
        yield
        return
    ended = threading.Event()
    thread = threading.Thread(target=_beat_until, args=(ended, run), daemon=True)
    thread.start()
    try:
        yield
    finally:
        ended.set()
        thread.join()


def _beat_until(ended: threading.Event, run: jobs.Run) -> None:
    try:
        while not ended.wait(settings.JOB_HEARTBEAT_SECONDS):
            try:
                run.beat()
            except DatabaseError as error:
                log.warning("no heartbeat for job %s: %s", run.job.pk, error)
    except jobs.Superseded:
        return  # the work finds out at its own next step
    finally:
        connection.close()
