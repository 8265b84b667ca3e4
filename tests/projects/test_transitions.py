"""I11: jobs and window schedules move along their graphs only, and each move leaves its time.

The graph of an order's events is in tests/materials/orders and the database's own triggers.
"""

from __future__ import annotations

import contextlib
import random
from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from openings import services as openings
from openings.errors import AlreadyDecided
from openings.models import ScheduleImport
from projects import jobs
from projects.models import Job
from tests.factories.openings import ScheduleFactory
from tests.factories.people import dana, harrow

pytestmark = pytest.mark.django_db
S = Job.State
# what people, workers and the sweep may do, and where it leads from each state; all else changes nothing
GRAPH = {
    ("claim", S.QUEUED): S.RUNNING,
    ("finish", S.RUNNING): S.DONE,
    ("fail", S.RUNNING): S.FAILED,
    ("cancel", S.QUEUED): S.CANCELLED,
    ("cancel", S.RUNNING): S.CANCELLED,
    ("retry", S.FAILED): S.QUEUED,
    ("retry", S.CANCELLED): S.QUEUED,
    ("sweep", S.RUNNING): S.QUEUED,
}
ENDED = {S.DONE, S.FAILED, S.CANCELLED}


class Office:
    """A person who asks and a worker that carries out, doing one thing after another to one job."""

    def __init__(self):
        self.by = dana(harrow())
        self.job = jobs.enqueue(by=self.by, kind="test", arguments={}, input_hash="a")
        self.run = None

    def do(self, what):
        with contextlib.suppress(jobs.Superseded):
            getattr(self, what)()
        self.job.refresh_from_db()
        return self.job

    def claim(self):
        self.run = jobs.claim(self.job.pk) or self.run

    def finish(self):
        if self.run:
            self.run.finish({"rolls": 4})

    def fail(self):
        if self.run:
            self.run.fail("Out of paper.")

    def cancel(self):
        jobs.cancel(by=self.by, job=self.job)

    def retry(self):
        jobs.retry(by=self.by, job=self.job)

    def sweep(self):
        # the worker has been silent for an hour, and has not yet used up its attempts
        long_ago = timezone.now() - timedelta(hours=1)
        Job.objects.filter(pk=self.job.pk).update(heartbeat=long_ago, attempts=1)
        jobs.sweep()


@pytest.mark.parametrize("lot", range(8))
def test_a_job_moves_along_its_graph_only(lot):
    office, dice = Office(), random.Random(lot)
    moves = set()

    for _ in range(60):
        what = dice.choice(("claim", "finish", "fail", "cancel", "retry", "sweep"))
        before = office.job.state
        after = office.do(what).state
        assert after == GRAPH.get((what, before), before), (what, before)
        assert (office.job.finished_at is not None) == (after in ENDED)
        assert office.job.started_at is not None or after in {S.QUEUED, S.CANCELLED}
        moves.add((what, before))
        if after == S.DONE:
            office.job = jobs.enqueue(by=office.by, kind="test", arguments={}, input_hash=str(dice.random()))

    assert len(moves) > 12


def test_a_finished_job_stays_finished_whatever_is_done():
    office = Office()
    office.do("claim")
    office.do("finish")

    states = {what: office.do(what).state for what in ("claim", "finish", "fail", "cancel", "retry", "sweep")}

    assert set(states.values()) == {S.DONE}


def test_a_job_has_no_state_that_is_not_in_the_graph():
    office = Office()

    with pytest.raises(IntegrityError), transaction.atomic():
        Job.objects.filter(pk=office.job.pk).update(state="half")


@pytest.mark.parametrize("first", ["confirm", "put away"])
@pytest.mark.parametrize("then", ["confirm", "put away"])
def test_a_schedule_is_decided_once_and_keeps_when(first, then):
    by = dana(harrow())
    schedule = ScheduleFactory(house__project__company=by.company)
    ways = {
        "confirm": lambda: openings.confirm_import(by=by, schedule_import=schedule),
        "put away": lambda: openings.put_away_import(by=by, schedule_import=schedule),
    }

    ways[first]()
    schedule.refresh_from_db()
    decided = (schedule.state, schedule.decided_at)
    with pytest.raises(AlreadyDecided):
        ways[then]()

    schedule.refresh_from_db()
    assert (schedule.state, schedule.decided_at) == decided
    assert schedule.state == {"confirm": "saved", "put away": "refused"}[first]
    assert schedule.decided_at is not None


def test_a_decided_schedule_does_not_become_a_preview_that_was_decided():
    schedule = ScheduleFactory(state=ScheduleImport.State.SAVED, decided_at=timezone.now())

    with pytest.raises(IntegrityError), transaction.atomic():
        ScheduleImport.objects.filter(pk=schedule.pk).update(state="preview")
