"""R7 in full: 20 kills of PostgreSQL, 10,000 acknowledged."""

from __future__ import annotations

import pytest

from tests.crashes.postgres_killed import kill_under_writers

pytestmark = [pytest.mark.production, pytest.mark.django_db(transaction=True)]


def test_none_of_ten_thousand_acknowledged_is_lost_in_twenty_kills(site, tmp_path):
    kill_under_writers(site, tmp_path, kills=20, acknowledged=10_000, orders_each=10)
