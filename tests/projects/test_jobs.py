"""A job's row is the truth: asked for once, claimed once, ended once, and picked up after a crash."""

from __future__ import annotations

import errno
import logging
from datetime import timedelta
from pathlib import Path

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from projects import job_files, jobs, nudge
from projects.errors import BadValue, NotThere
from projects.models import Job
from projects.tasks import run_job, sweep_jobs
from tests.factories.people import dana, harrow, sable

pytestmark = pytest.mark.django_db
PDF = b"%PDF-1.7 four rolls"


@pytest.fixture
def by():
    return dana(harrow())


@pytest.fixture
def work(monkeypatch):
    """Register a kind for one test and count how often it was carried out."""

    def register(carry_out, name="order"):
        runs = []

        def counted(run):
            runs.append(run)
            return carry_out(run)

        monkeypatch.setitem(jobs.KINDS, name, counted)
        return runs

    return register


def ask(by, *, kind="order", input_hash="a1", **arguments):
    return jobs.enqueue(by=by, kind=kind, arguments=arguments, input_hash=input_hash)


def a_pdf(run):
    return jobs.Document(name="order-2026-014.pdf", content=PDF)


def age(job, *, seconds):
    Job.objects.filter(pk=job.pk).update(heartbeat=timezone.now() - timedelta(seconds=seconds))


def files_below(folder):
    return sorted(path for path in Path(folder).rglob("*") if path.is_file())


@pytest.fixture
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


def test_asking_twice_for_the_same_inputs_finds_the_first_job(by):
    first = ask(by, order=3)

    again = ask(by, order=3)

    assert again == first
    assert Job.objects.count() == 1
    assert (first.state, first.arguments, first.created_by) == ("queued", {"order": 3}, by.user)


def test_other_inputs_kinds_and_companies_get_jobs_of_their_own(by):
    stranger = sable()

    made = [ask(by), ask(by, input_hash="b2"), ask(by, kind="sheet"), ask(stranger)]

    assert len({job.pk for job in made}) == 4


@pytest.mark.parametrize("state", ["queued", "running", "done"])
def test_database_refuses_a_second_live_job_for_the_same_inputs(by, state):
    ask(by)

    with pytest.raises(IntegrityError), transaction.atomic():
        Job.objects.create(company=by.company, kind="order", input_hash="a1", state=state)

    assert Job.objects.count() == 1


def test_a_failed_job_does_not_stand_in_the_way_of_a_new_one(by, work):
    first = ask(by)
    jobs.claim(first.pk).fail("The order has no lines. Add a house.")

    second = ask(by)

    assert second != first
    assert second.state == "queued"


def test_finished_job_keeps_its_file_whole_and_under_its_own_name(by, work, media):
    work(a_pdf)
    job = ask(by)

    run_job(job.pk)

    job.refresh_from_db()
    assert (job.state, job.progress, job.file_name) == ("done", 100, "order-2026-014.pdf")
    assert jobs.path_of(job).read_bytes() == PDF
    assert files_below(media) == [jobs.path_of(job)]


def test_finished_job_may_bring_values_instead_of_a_file(by, work, media):
    work(lambda run: {"rolls": run.arguments["rolls"]})
    job = ask(by, rolls=4)

    run_job(job.pk)

    job.refresh_from_db()
    assert (job.state, job.result, job.file_path) == ("done", {"rolls": 4}, "")
    assert files_below(media) == []


def test_progress_is_seen_while_the_work_goes_on(by, work):
    seen = []

    def carry_out(run):
        run.tell(40, "Drawing the pages")
        seen.append(Job.objects.values_list("state", "progress", "progress_text").get())

    work(carry_out)

    run_job(ask(by).pk)

    assert seen == [("running", 40, "Drawing the pages")]


def test_refusal_is_the_reason_that_people_read(by, work):
    def carry_out(run):
        raise BadValue(problem="The order has no lines.", remedy="Add a house to the week.")

    work(carry_out)
    job = ask(by)

    run_job(job.pk)

    job.refresh_from_db()
    assert (job.state, job.error) == ("failed", "The order has no lines. Add a house to the week.")


def test_bug_fails_the_job_in_plain_words_and_is_logged(by, work, caplog):
    def carry_out(run):
        raise ZeroDivisionError("division by zero")

    work(carry_out)
    job = ask(by)

    with caplog.at_level(logging.ERROR, logger="lapwise.jobs"):
        run_job(job.pk)

    job.refresh_from_db()
    assert (job.state, job.error) == (
        "failed",
        "This could not be made: something broke on our side. Try again.",
    )
    assert "ZeroDivisionError" in caplog.text


def test_full_disk_fails_the_job_says_so_and_leaves_no_half_file(by, work, media, monkeypatch):
    def no_room(handle):
        raise OSError(errno.ENOSPC, "No space left on device")

    work(a_pdf)
    monkeypatch.setattr(job_files.os, "fsync", no_room)
    job = ask(by)

    run_job(job.pk)

    job.refresh_from_db()
    assert job.state == "failed"
    assert "disk is full" in job.error
    assert files_below(media) == []


@pytest.mark.parametrize("times", [2, 3])
def test_delivering_a_job_again_changes_nothing(by, work, media, times):
    runs = work(a_pdf)
    job = ask(by)
    run_job(job.pk)
    before = Job.objects.values().get()

    for _ in range(times - 1):
        run_job(job.pk)

    assert len(runs) == 1
    assert Job.objects.values().get() == before


def test_nudge_for_a_job_that_was_never_saved_does_nothing(by, work):
    runs = work(a_pdf)

    run_job(4711)

    assert runs == []


def test_cancelled_job_is_not_carried_out(by, work):
    runs = work(a_pdf)
    job = ask(by)
    jobs.cancel(by=by, job=job)

    run_job(job.pk)

    job.refresh_from_db()
    assert (job.state, runs) == ("cancelled", [])


def test_work_cancelled_on_the_way_stops_at_its_next_step_and_keeps_nothing(by, work, media):
    steps = []

    def carry_out(run):
        steps.append("first")
        jobs.cancel(by=by, job=run.job)
        run.tell(50)
        steps.append("second")
        return a_pdf(run)

    work(carry_out)
    job = ask(by)

    run_job(job.pk)

    job.refresh_from_db()
    assert (job.state, steps, files_below(media)) == ("cancelled", ["first"], [])


def test_person_of_another_company_can_neither_cancel_nor_retry(by):
    job = ask(by)

    stranger = sable()

    with pytest.raises(NotThere):
        jobs.cancel(by=stranger, job=job)
    with pytest.raises(NotThere):
        jobs.retry(by=stranger, job=job)

    job.refresh_from_db()
    assert job.state == "queued"


def test_retry_puts_a_failed_job_back_with_all_its_attempts(by, work):
    work(lambda run: None)
    job = ask(by)
    jobs.claim(job.pk).fail("Out of paper.")

    again = jobs.retry(by=by, job=job)

    assert (again.pk, again.state, again.attempts, again.error) == (job.pk, "queued", 0, "")


def test_retry_finds_the_job_that_meanwhile_does_the_same_work(by):
    old = ask(by)
    jobs.claim(old.pk).fail("Out of paper.")
    newer = ask(by)

    found = jobs.retry(by=by, job=old)

    old.refresh_from_db()
    assert (found, old.state) == (newer, "failed")


def test_retry_leaves_a_finished_job_alone(by, work):
    work(lambda run: {"rolls": 4})
    job = ask(by)
    run_job(job.pk)

    again = jobs.retry(by=by, job=job)

    assert (again.state, again.result) == ("done", {"rolls": 4})


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


def test_two_functions_cannot_carry_out_the_same_kind(work):
    work(a_pdf)

    with pytest.raises(ValueError, match="two functions"):
        jobs.kind("order")(lambda run: None)


@pytest.fixture
def unreachable_broker(settings):
    settings.CELERY_BROKER_URL = "redis://127.0.0.1:1/0"
    settings.CELERY_BROKER_TRANSPORT_OPTIONS = {}
    nudge.forget_what_was_seen()
    yield
    nudge.forget_what_was_seen()
