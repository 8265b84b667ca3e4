"""R7 in full: 20 kills of PostgreSQL, 10,000 acknowledged."""

from __future__ import annotations

import pytest

from tests.config.test_production import manage
from tests.crashes.cluster import a_cluster
from tests.crashes.postgres_killed import kill_under_writers

pytestmark = [pytest.mark.production, pytest.mark.django_db(transaction=True)]


def test_none_of_ten_thousand_acknowledged_is_lost_in_twenty_kills(site, tmp_path):
    kill_under_writers(site, tmp_path, kills=20, acknowledged=10_000, orders_each=10)


def test_a_server_without_fsync_fails_the_check():
    """The negative control."""
    with a_cluster() as cluster:
        cluster.kill()
        cluster.start("-c", "fsync=off", "-c", "full_page_writes=off")

        told = manage("check", "--database", "default", DATABASE_URL=cluster.address)

    assert told.returncode == 1
    assert "fsync = off" in told.stderr
    assert "full_page_writes = off" in told.stderr
