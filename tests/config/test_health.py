"""What the machines that watch us are told."""

from __future__ import annotations

import shutil
from collections import namedtuple
from datetime import timedelta

import pytest
from django.db import OperationalError, connection
from django.utils import timezone

from config import health
from projects.models import Job
from tests.factories.people import harrow

pytestmark = pytest.mark.django_db
Disk = namedtuple("Disk", "total used free")


def test_process_that_runs_says_so_without_the_database(client, monkeypatch):
    monkeypatch.setattr(connection, "cursor", out_of_reach)

    answer = client.get("/healthz")

    assert (answer.status_code, answer.json()) == (200, {"status": "ok"})


def test_everything_in_order_is_ready(client):
    answer = client.get("/readyz")

    assert answer.status_code == 200
    assert answer.json() == {"status": "ok", "database": True, "migrations": True, "disk": True, "jobs": True}


def test_database_out_of_reach_is_not_ready(client, monkeypatch):
    monkeypatch.setattr(connection, "cursor", out_of_reach)

    answer = client.get("/readyz")

    assert (answer.status_code, answer.json()["database"]) == (503, False)


@pytest.mark.parametrize(("free", "ready"), [(10, True), (9, False)])
def test_ready_needs_a_tenth_of_the_disk(client, monkeypatch, free, ready):
    monkeypatch.setattr(shutil, "disk_usage", lambda _: Disk(100, 100 - free, free))

    answer = client.get("/readyz")

    assert (answer.status_code, answer.json()["disk"]) == (200 if ready else 503, ready)


@pytest.mark.parametrize(("minutes", "ready"), [(4, True), (6, False)])
def test_ready_needs_jobs_that_wait_less_than_five_minutes(client, minutes, ready):
    job = Job.objects.create(company=harrow(), kind="order", input_hash="a1")
    Job.objects.filter(pk=job.pk).update(created_at=timezone.now() - timedelta(minutes=minutes))

    answer = client.get("/readyz")

    assert (answer.status_code, answer.json()["jobs"]) == (200 if ready else 503, ready)


def test_missing_migration_is_not_ready(client, monkeypatch):
    monkeypatch.setattr(health, "MigrationExecutor", an_executor_with_a_plan)

    answer = client.get("/readyz")

    assert (answer.status_code, answer.json()["migrations"]) == (503, False)


def out_of_reach(*_, **__):
    raise OperationalError("could not connect")


def an_executor_with_a_plan(_):
    class Graph:
        def leaf_nodes(self):
            return []

    class Loader:
        graph = Graph()

    class Executor:
        loader = Loader()

        def migration_plan(self, _):
            return ["0002"]

    return Executor()
