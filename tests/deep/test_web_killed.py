"""R8 in full: 30 random points, on both databases."""

from __future__ import annotations

import random

import pytest

from tests.crashes.web_killed import kill_so_often

pytestmark = pytest.mark.django_db(transaction=True)


def test_thirty_killed_forms_are_each_done_once_when_sent_again(site, tmp_path):
    kill_so_often(site, tmp_path, random.Random(), times=30)
