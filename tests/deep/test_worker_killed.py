"""R9 in full: 30 kills, on both databases."""

from __future__ import annotations

import random

import pytest

from tests.crashes.worker_killed import kill_so_often

pytestmark = pytest.mark.django_db(transaction=True)


def test_thirty_killed_workers_leave_nothing_undone_and_nothing_twice(site):
    kill_so_often(site, random.Random(), times=30)
