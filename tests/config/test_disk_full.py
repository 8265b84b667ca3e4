"""A full disk is said in plain words, loses nothing that was acknowledged, and passes without a restart."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test import Client
from django.urls import reverse

from projects.models import AuditEntry, Project

pytestmark = [pytest.mark.embedded, pytest.mark.django_db(transaction=True)]
MANY_PAGES = 1_000_000


@pytest.fixture
def office(manager):
    client = Client(raise_request_exception=False)
    client.force_login(manager.user, backend="django.contrib.auth.backends.ModelBackend")
    return client


def limit_database(*, pages):
    """Let the file grow to `pages` at most: SQLite then answers as it does on a full disk."""
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA max_page_count = {pages}")


def fill_to_the_last_page():
    with connection.cursor() as cursor:
        cursor.execute("VACUUM")
        pages = cursor.execute("PRAGMA page_count").fetchone()[0]
    limit_database(pages=pages)


def create_project(client, number):
    values = {
        "code": f"P-{number}",
        "name": "Alder Row " + "x" * 60,
        "builder": "Teasel Homes",
        "delivery_place": "east gate " + "x" * 100,
        "weather_place": "Alder Row",
    }
    return client.post(reverse("project-create"), values)


def test_full_disk_is_said_keeps_what_was_saved_and_passes(office, manager):
    fill_to_the_last_page()
    statuses = []
    try:
        for number in range(200):
            statuses.append(create_project(office, number).status_code)
            if statuses[-1] == 507:
                break
        refused = create_project(office, 999)
    finally:
        limit_database(pages=MANY_PAGES)

    saved = statuses.count(302)
    assert set(statuses) <= {302, 507}
    assert (statuses[-1], refused.status_code) == (507, 507)
    assert "disk is full" in refused.content.decode()
    assert Project.objects.of(manager.company).count() == saved
    assert AuditEntry.objects.of(manager.company).filter(action="create project").count() == saved
    assert create_project(office, 1000).status_code == 302  # no restart
    with connection.cursor() as cursor:
        assert cursor.execute("PRAGMA integrity_check").fetchone() == ("ok",)
