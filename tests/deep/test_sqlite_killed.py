"""R6 in full: 200 kills and 200 frozen copies."""

from __future__ import annotations

import random

import pytest

from tests.crashes.sqlite_killed import a_writer, copy_without_freezing, freeze_so_often, kill_so_often

pytestmark = [pytest.mark.embedded, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def writing(site, tmp_path):
    with a_writer(tmp_path) as writing:
        yield writing


def test_two_hundred_kills_lose_and_halve_nothing(writing):
    kill_so_often(writing, random.Random(), times=200)


def test_two_hundred_frozen_copies_lose_and_halve_nothing(writing):
    freeze_so_often(writing, random.Random(), times=200)


def test_copies_that_are_not_frozen_are_damaged_or_behind(writing):
    """The negative control."""
    assert copy_without_freezing(writing, times=30) >= 25
