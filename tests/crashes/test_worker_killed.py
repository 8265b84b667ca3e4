"""R9, in short: once. The full count is in `tests/deep`."""

from __future__ import annotations

import random

import pytest

from tests.crashes.worker_killed import kill_so_often

pytestmark = pytest.mark.django_db(transaction=True)


def test_pdf_and_drafts_of_a_killed_worker_are_made_once_by_the_next(site):
    kill_so_often(site, random.Random(9), times=1)
