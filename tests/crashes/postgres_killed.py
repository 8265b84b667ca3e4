"""R7: PostgreSQL is killed, again and again, under four who receive deliveries on the real web server."""

from __future__ import annotations

import json
import os
import subprocess
import sys

from tests.architecture.source import ROOT
from tests.crashes.cluster import a_cluster
from tests.crashes.receiving import orders_for, writing
from tests.materials.orders.web import Browser, running_server
from tests.projects.jobs.workers import wait_until

WRITERS = 4
LONGEST_SECONDS = 15


def kill_under_writers(site, folder, *, kills: int, acknowledged: int, orders_each: int = 1) -> None:
    """Kill it so often, with so many acknowledged in all; none of them is lost, none is there twice."""
    orders = orders_for(site, WRITERS * orders_each)
    with a_cluster() as cluster:
        # who is signed in is in the copy too
        signed_in = [Browser("", site.by) for _ in range(WRITERS)]
        cluster.take_over(folder)
        with running_server(str(folder), DATABASE_URL=cluster.database.url) as (address, _):
            for browser in signed_in:
                browser.address = address
            with writing(signed_in, orders) as writers:
                for kill in range(1, kills + 1):
                    wait_until(
                        lambda enough=kill * acknowledged // kills: count(writers) >= enough, seconds=3600
                    )
                    cluster.kill()
                    cluster.start()
                    before = count(writers)
                    wait_until(lambda before=before: count(writers) > before, seconds=LONGEST_SECONDS)
            _judge(cluster, writers)


def count(writers) -> int:
    return sum(len(writer.acknowledged) for writer in writers)


def _judge(cluster, writers) -> None:
    acknowledged = {key for writer in writers for key in writer.acknowledged}
    kept = cluster.rows("SELECT key FROM materials_delivery")
    half = cluster.rows(
        "SELECT d.key FROM materials_delivery d WHERE NOT EXISTS (SELECT 1 FROM materials_movement m "
        "WHERE m.key LIKE d.key || '.%')"
    )
    statuses = set().union(*(writer.statuses for writer in writers))
    assert acknowledged - {key for (key,) in kept} == set(), "acknowledged and lost"
    assert len(kept) == len(set(kept))
    assert len(kept) <= len(acknowledged) + WRITERS  # what was on its way at the end
    assert half == []
    assert statuses <= {302, 503, 0}, statuses
    assert verified(cluster.database.url) == []


def verified(url: str) -> list[str]:
    """Return which invariants are broken in a database."""
    environment = {**os.environ, "DATABASE_URL": url, "DJANGO_SETTINGS_MODULE": "config.settings.test"}
    command = [sys.executable, "manage.py", "verify_invariants", "--json"]
    told = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)
    return [each["code"] for each in json.loads(told.stdout)["invariants"] if not each["holds"]]
