"""R12: a disk that is really full, under the database and under the made files."""

from __future__ import annotations

import sqlite3
from contextlib import closing

import pytest
from django.urls import reverse

from config.backup.keeping import database
from projects import jobs
from projects.models import Job
from projects.tasks import run_job
from tests.crashes.small_disk import Ballast, a_small_disk, why_not
from tests.crashes.worker_killed import whole_files
from tests.materials.orders.web import Browser, running_server

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.skipif(bool(why_not()), reason=why_not()),
]
FULL = {507, 503}
ROOM = 200 * 1024  # a request or two, and what SQLite writes beside
MANY = 2000


@pytest.fixture
def disk(tmp_path):
    with a_small_disk(tmp_path / "disk") as disk:
        yield disk


def project(number: int) -> dict[str, str]:
    return {
        "code": f"FULL-{number}",
        "name": "Alder Row " + "x" * 60,
        "builder": "Teasel Homes",
        "delivery_place": "east gate " + "x" * 100,
        "weather_place": "Alder Row",
    }


@pytest.mark.embedded
def test_a_full_disk_under_the_database_is_said_loses_nothing_and_passes(site, disk, tmp_path):
    file, ballast, create = disk / "lapwise.sqlite3", Ballast(disk), reverse("project-create")
    signed_in = Browser("", site.by)
    database().dump(file)
    ballast.leave(free=ROOM)
    changes = {"DATABASE_URL": f"sqlite:///{file}", "MEDIA_ROOT": str(disk / "media")}
    with running_server(str(tmp_path), **changes) as (address, _):
        signed_in.address = address
        token = signed_in.form(create)
        statuses, text = [], ""
        while not FULL & set(statuses) and len(statuses) < MANY:
            status, _, text = signed_in.post(create, {**token, **project(len(statuses))})
            statuses.append(status)
        ballast.throw_off()
        # no restart
        after = [signed_in.post(create, {**token, **project(1000 + number)})[0] for number in range(3)]

    saved = statuses.count(302)
    assert saved > 0
    assert set(statuses) <= {302, *FULL}
    assert "disk is full" in text
    assert after == [302] * 3
    with closing(sqlite3.connect(file)) as opened:
        assert opened.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        for table, column, value in (
            ("projects_project", "code", "FULL-%"),
            ("projects_auditentry", "action", "create project"),
        ):
            query = f"SELECT COUNT(*) FROM {table} WHERE {column} LIKE '{value}'"
            assert opened.execute(query).fetchone() == (saved + 3,), table


def test_a_full_disk_under_made_files_is_said_leaves_no_half_and_passes(site, disk, settings):
    settings.MEDIA_ROOT, ballast = disk / "media", Ballast(disk)
    site.issued()
    job = Job.objects.get(kind="order-pdf")
    settings.MEDIA_ROOT.mkdir()
    ballast.leave(free=4096)

    run_job(job.pk)
    job.refresh_from_db()
    assert (job.state, job.can_be_retried) == ("failed", True)
    assert "disk is full" in job.error
    assert [path for path in settings.MEDIA_ROOT.rglob("*") if path.is_file()] == []

    ballast.throw_off()
    jobs.retry(by=site.by, job=job)
    run_job(job.pk)
    job.refresh_from_db()
    assert job.state == "done"
    assert whole_files() == [jobs.path_of(job)]
