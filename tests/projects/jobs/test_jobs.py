"""A job is asked for once, claimed once and ended once, and its row says how it went."""

from __future__ import annotations

import errno
import logging

import pytest
from django.db import IntegrityError, transaction

from projects import job_files, jobs
from projects.errors import BadValue, NotThere
from projects.models import Job
from projects.tasks import run_job
from tests.factories.people import sable
from tests.projects.jobs.asking import PDF, a_pdf, ask, files_below

pytestmark = pytest.mark.django_db


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


def test_two_functions_cannot_carry_out_the_same_kind(work):
    work(a_pdf)

    with pytest.raises(ValueError, match="two functions"):
        jobs.kind("order")(lambda run: None)
