"""A real worker on a real broker: what it finishes, and what survives when it or the broker is killed."""

from __future__ import annotations

import shutil
import threading
import time
from pathlib import Path

import pytest
from django.conf import settings
from django.db import connection, transaction

from projects import jobs, nudge
from projects.models import Job
from projects.tasks import run_job
from tests.projects.jobs import kinds
from tests.projects.jobs.asking import ask
from tests.projects.jobs.workers import Redis, a_worker, wait_until

pytestmark = pytest.mark.django_db(transaction=True)
needs_redis = pytest.mark.skipif(not shutil.which("redis-server"), reason="redis-server is not installed")


def states() -> dict[str, int]:
    counted: dict[str, int] = {}
    for state in Job.objects.values_list("state", flat=True):
        counted[state] = counted.get(state, 0) + 1
    return counted


def kept_files() -> list[Path]:
    return sorted(path for path in Path(settings.MEDIA_ROOT).rglob("*") if path.is_file())


@pytest.fixture(autouse=True)
def _empty_media():
    shutil.rmtree(settings.MEDIA_ROOT, ignore_errors=True)
    nudge.forget_what_was_seen()
    yield
    nudge.forget_what_was_seen()


@pytest.fixture
def redis(tmp_path, settings):
    server = Redis(tmp_path)
    settings.CELERY_BROKER_URL = server.url
    settings.CELERY_BROKER_TRANSPORT_OPTIONS = {}
    nudge.forget_what_was_seen()
    yield server
    server.kill()


def test_worker_carries_out_what_was_asked_and_shows_progress(by):
    with a_worker():
        note, slow = ask(by, kind="test note", order=3), ask(by, kind="test slow", steps=20)
        told = wait_until(
            lambda: Job.objects.filter(pk=slow.pk, progress__gte=20).values("progress_text").first()
        )
        wait_until(lambda: states() == {"done": 2})

    note.refresh_from_db()
    assert told["progress_text"].endswith("of 20")
    assert jobs.path_of(note).read_bytes() == b"{'order': 3}"
    assert len(kept_files()) == 2


@pytest.mark.parametrize("moment", [0.1, 0.9])
def test_job_of_a_killed_worker_is_done_once_by_the_next(by, moment):
    job = ask(by, kind="test slow", steps=15)
    with a_worker() as first:
        wait_until(lambda: Job.objects.filter(pk=job.pk, state="running").exists())
        time.sleep(moment)
        first.kill()
    assert states() == {"running": 1}

    with a_worker():
        wait_until(lambda: states() == {"done": 1})

    job.refresh_from_db()
    assert job.attempts == 2
    assert kept_files() == [jobs.path_of(job)]
    assert jobs.path_of(job).read_bytes() == b"slow " * 1000


def test_without_the_sweep_the_job_of_a_killed_worker_stays_undone(by):
    """Negative control: it is the sweep that brings the job back, not the broker."""
    job = ask(by, kind="test slow", steps=15)
    with a_worker() as first:
        wait_until(lambda: Job.objects.filter(pk=job.pk, state="running").exists())
        first.kill()

    with a_worker(JOB_STALE_SECONDS="3600"):
        other = ask(by, kind="test note", input_hash="b2")
        wait_until(lambda: Job.objects.filter(pk=other.pk, state="done").exists())
        time.sleep(5)

    job.refresh_from_db()
    assert job.state == "running"


def test_long_silent_work_is_not_taken_for_dead(by):
    # 6 s without a word, stale after 3 s, swept each second: only the heartbeat keeps it
    job = ask(by, kind="test silent", seconds=6)

    with a_worker():
        wait_until(lambda: states() == {"done": 1})

    job.refresh_from_db()
    assert (job.attempts, job.result) == (1, {"slept": 6})


def test_work_cancelled_by_a_person_stops_in_the_worker(by):
    job = ask(by, kind="test slow", steps=600)

    with a_worker():
        wait_until(lambda: Job.objects.filter(pk=job.pk, state="running").exists())
        jobs.cancel(by=by, job=job)
        after = ask(by, kind="test note", input_hash="b2")
        wait_until(lambda: Job.objects.filter(pk=after.pk, state="done").exists())

    job.refresh_from_db()
    assert (job.state, len(kept_files())) == ("cancelled", 1)


@needs_redis
def test_broker_that_comes_back_empty_loses_no_job(by, redis):
    redis.start()
    for number in range(60):
        ask(by, kind="test note", input_hash=str(number), number=number)
    redis.kill()
    for number in range(60, 100):
        ask(by, kind="test note", input_hash=str(number), number=number)
    assert jobs.broker_is_down()
    redis.start()

    with a_worker(redis.url):
        wait_until(lambda: states() == {"done": 100})

    assert len(kept_files()) == 100


@needs_redis
def test_work_goes_on_once_a_broker_that_was_away_is_back(by, redis):
    redis.start()
    with a_worker(redis.url) as worker:
        ask(by, kind="test note", input_hash="before")
        wait_until(lambda: states() == {"done": 1})
        redis.kill()
        ask(by, kind="test note", input_hash="during")
        time.sleep(1)
        redis.start()

        def all_is_done() -> bool:
            # the broker's library may end the worker when it loses a connection with work on it:
            # docker-compose.yml restarts it, as docs/running.md asks of every way to run it
            worker.start_again_if_it_ended()
            return states() == {"done": 2}

        wait_until(all_is_done)


def test_request_is_not_held_up_by_a_broker_that_does_not_answer(by, settings):
    # nothing listens on port 1: refused at once; 192.0.2.1 is kept for documentation and leads nowhere
    for address in ["redis://127.0.0.1:1/0", "redis://192.0.2.1:6379/0"]:
        settings.CELERY_BROKER_URL, settings.CELERY_BROKER_TRANSPORT_OPTIONS = address, {}
        nudge.forget_what_was_seen()
        began = time.monotonic()

        job = ask(by, kind="test note", input_hash=address)
        down = jobs.broker_is_down()

        # two questions of half a second each; the broker's library left to itself takes six seconds for one
        assert time.monotonic() - began < 4
        assert (job.state, down) == ("queued", True)


def test_order_that_is_taken_back_leaves_no_nudge(by, monkeypatch):
    nudged = []
    monkeypatch.setattr(jobs, "nudge", nudged.append)

    with transaction.atomic():
        ask(by, kind="test note")
        transaction.set_rollback(True)

    assert (nudged, Job.objects.count()) == ([], 0)


@pytest.mark.parametrize("asked", range(3))
def test_two_deliveries_at_the_same_moment_do_the_work_once(by, monkeypatch, asked):
    runs = []
    monkeypatch.setitem(jobs.KINDS, "test note", lambda run: runs.append(run) or kinds.note(run))
    job = ask(by, kind="test note")
    together = threading.Barrier(4)

    def deliver():
        together.wait()
        run_job(job.pk)
        connection.close()

    threads = [threading.Thread(target=deliver) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert (len(runs), states(), len(kept_files())) == (1, {"done": 1}, 1)


def test_many_who_ask_at_the_same_moment_get_the_same_job(by):
    together, found = threading.Barrier(8), []

    def ask_now():
        together.wait()
        found.append(ask(by, kind="test note").pk)
        connection.close()

    threads = [threading.Thread(target=ask_now) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert len(found) == 8
    assert len(set(found)) == Job.objects.count() == 1
