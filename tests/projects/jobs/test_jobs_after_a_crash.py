"""Nothing is lost with a worker, a nudge or the broker: the row is still there, and the sweep finds it."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from projects import jobs
from projects.models import Job
from projects.tasks import run_job, sweep_jobs
from tests.projects.jobs.asking import a_pdf, age, ask, files_below

pytestmark = pytest.mark.django_db


def test_nudge_for_a_job_that_was_never_saved_does_nothing(by, work):
    runs = work(a_pdf)

    run_job(4711)

    assert runs == []


def test_job_without_a_heartbeat_goes_back_in_the_queue(by, settings):
    job = ask(by)
    jobs.claim(job.pk)
    age(job, seconds=settings.JOB_STALE_SECONDS + 1)

    swept = jobs.sweep()

    job.refresh_from_db()
    assert (swept.put_back, swept.nudged, job.state, job.attempts) == (1, 1, "queued", 1)


def test_job_with_a_fresh_heartbeat_is_left_with_its_worker(by, settings):
    job = ask(by)
    run = jobs.claim(job.pk)
    age(job, seconds=settings.JOB_STALE_SECONDS - 2)

    swept = jobs.sweep()

    assert swept.put_back == 0
    run.tell(10)


def test_worker_that_was_thought_dead_changes_nothing_when_it_comes_back(by, media):
    job = ask(by)
    thought_dead = jobs.claim(job.pk)
    age(job, seconds=3600)
    jobs.sweep()
    second = jobs.claim(job.pk)

    with pytest.raises(jobs.Superseded):
        thought_dead.finish(a_pdf(thought_dead))
    assert files_below(media) == []
    second.finish(a_pdf(second))

    job.refresh_from_db()
    assert (job.state, job.attempts) == ("done", 2)
    assert files_below(media) == [jobs.path_of(job)]


def test_third_stop_fails_the_job_with_a_reason_and_a_way_out(by, settings):
    job = ask(by)
    for _ in range(settings.JOB_ATTEMPTS):
        jobs.claim(job.pk)
        age(job, seconds=3600)
        jobs.sweep()

    job.refresh_from_db()
    assert (job.state, job.attempts, job.can_be_retried) == ("failed", 3, True)
    assert job.error.startswith("The work stopped three times.")


def test_drafts_of_killed_workers_are_cleared_by_the_next_one(by, work, media):
    work(a_pdf)
    job = ask(by)
    draft = media / "jobs" / str(by.company.pk) / f".{job.pk}.deadbeef.part"
    draft.parent.mkdir(parents=True)
    draft.write_bytes(b"%PDF half")

    run_job(job.pk)

    job.refresh_from_db()
    assert files_below(media) == [jobs.path_of(job)]


def test_job_is_nudged_only_once_the_order_is_saved(by, monkeypatch, django_capture_on_commit_callbacks):
    nudged = []
    monkeypatch.setattr(jobs, "nudge", lambda job_id: nudged.append(job_id) or True)

    with django_capture_on_commit_callbacks(execute=True):
        job = ask(by)
        assert nudged == []

    assert nudged == [job.pk]


def test_broker_that_is_away_loses_no_job_and_raises_nothing(
    by, settings, unreachable_broker, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        job = ask(by)

    job.refresh_from_db()
    assert (job.state, job.nudged_at) == ("queued", None)
    assert jobs.broker_is_down()


def test_sweep_nudges_what_the_broker_forgot(by, settings):
    job = ask(by)
    forgotten = timezone.now() - timedelta(seconds=settings.JOB_NUDGE_AGAIN_SECONDS + 1)
    Job.objects.filter(pk=job.pk).update(nudged_at=forgotten)

    first, second = jobs.sweep(), jobs.sweep()

    assert (first.nudged, second.nudged) == (1, 0)


def test_sweeping_again_changes_nothing(by):
    job = ask(by)
    jobs.claim(job.pk)
    age(job, seconds=3600)
    sweep_jobs()
    before = list(Job.objects.values())

    sweep_jobs()

    assert list(Job.objects.values()) == before
