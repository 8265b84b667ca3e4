"""The very commands of docker-compose.yml, on a real PostgreSQL and Redis, answer their health checks."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from contextlib import ExitStack, contextmanager, suppress

import pytest
from django.conf import settings

from projects.models import Job
from tests.config.test_compose import COMPOSE, ROOT
from tests.config.test_production import KEY
from tests.config.test_run import free_port
from tests.projects.jobs.asking import ask
from tests.projects.jobs.workers import QUICK, database_url, wait_until

pytestmark = [pytest.mark.production, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def environment(tmp_path):
    if not settings.CELERY_BROKER_URL.startswith("redis"):
        pytest.skip("needs PostgreSQL and Redis: make test-production")
    return {
        **QUICK,
        "PATH": f"{os.path.dirname(sys.executable)}:{os.environ['PATH']}",
        "DJANGO_SETTINGS_MODULE": "config.settings.production",
        "SECRET_KEY": KEY,
        "ALLOWED_HOSTS": "lapwise.example",
        "DATABASE_URL": database_url(),
        "REDIS_URL": settings.CELERY_BROKER_URL,
        "JOB_QUEUE": settings.CELERY_TASK_DEFAULT_QUEUE,
        "BEHIND_PROXY": "yes",
        "VAR_FOLDER": str(tmp_path),
        "MEDIA_ROOT": str(settings.MEDIA_ROOT),
        "STATIC_ROOT": str(tmp_path / "static"),
        "CLOCK": str(tmp_path / "clock"),
        "PORT": str(free_port()),
    }


@contextmanager
def program(name, environment, *, more=()):
    command = [
        word.replace("/tmp/clock", environment["CLOCK"]) for word in COMPOSE["services"][name]["command"]
    ]
    with subprocess.Popen([*command, *more], env=environment, cwd=ROOT, start_new_session=True) as process:
        try:
            yield process
        finally:
            with suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGKILL)


def is_healthy(name, environment):
    command = COMPOSE["services"][name]["healthcheck"]["test"][1:]
    return (
        subprocess.run(command, env=environment, cwd=ROOT, capture_output=True, check=False).returncode == 0
    )


def test_programs_of_the_compose_file_work_and_say_so(manager, environment):
    collect = ["python", "manage.py", "collectstatic", "--noinput", "--verbosity", "0"]
    subprocess.run(collect, env=environment, cwd=ROOT, check=True)
    for name in ("web", "worker", "beat"):
        assert not is_healthy(name, environment)  # negative control: nothing runs yet

    with ExitStack() as started:
        started.enter_context(program("web", environment))
        started.enter_context(program("worker", environment, more=["--include", "tests.projects.jobs.kinds"]))
        started.enter_context(program("beat", environment))
        for name in ("web", "worker", "beat"):
            wait_until(lambda name=name: is_healthy(name, environment))
        job = ask(manager, kind="test note", order=3)
        wait_until(lambda: Job.objects.filter(pk=job.pk, state="done").exists())


def test_stopped_clock_is_not_healthy(environment):
    with program("beat", environment) as process:
        wait_until(lambda: is_healthy("beat", environment))
        process.kill()
        process.wait()
        time.sleep(0.1)

        assert not is_healthy("beat", environment)
