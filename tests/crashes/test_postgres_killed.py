"""R7, in short: PostgreSQL is killed twice. The full count is in `tests/deep`."""

from __future__ import annotations

import os
import subprocess
import sys
from urllib.parse import quote

import pytest
from django.conf import settings

from tests.config.test_production import COMPLETE, manage
from tests.crashes.postgres_killed import kill_under_writers
from tests.projects.jobs.workers import database_url

pytestmark = [pytest.mark.production, pytest.mark.django_db(transaction=True)]


def test_nothing_acknowledged_is_lost_when_postgres_is_killed(site, tmp_path):
    kill_under_writers(site, tmp_path, kills=2, acknowledged=8)


def test_a_server_that_could_lose_what_it_acknowledged_stops_the_start(db):
    """The negative control."""
    unsafe = f"{database_url()}?options={quote('-c synchronous_commit=off')}"

    for program in (["gunicorn", "--config", "config/gunicorn.py", "config.wsgi"], WORKER):
        started = begin(program, DATABASE_URL=unsafe)
        assert started.returncode != 0
        assert "PostgreSQL runs with synchronous_commit = off. Set synchronous_commit = on." in started.stderr
        assert "Traceback" not in started.stderr
    assert manage("check", "--database", "default", DATABASE_URL=database_url()).returncode == 0


WORKER = ["celery", "--app", "config.celery", "--quiet", "worker", "--concurrency", "1"]


def begin(program: list[str], **changes: str) -> subprocess.CompletedProcess[str]:
    """Start a program of production and return how it ended."""
    environment = {
        **COMPLETE,
        "PATH": os.environ["PATH"],
        "PORT": "0",
        "REDIS_URL": settings.CELERY_BROKER_URL,
    }
    return subprocess.run(
        [sys.executable, "-m", *program],
        env={**environment, **changes},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
