"""R6, in short: five kills and five frozen copies. The full counts are in `tests/deep`."""

from __future__ import annotations

import random

import pytest

from tests.crashes.sqlite_killed import a_writer, copy_without_freezing, freeze_so_often, kill_so_often

pytestmark = [pytest.mark.embedded, pytest.mark.django_db(transaction=True)]
TIMES = 5


def test_what_was_acknowledged_is_whole_after_a_kill_and_in_a_frozen_copy(site, tmp_path):
    dice = random.Random(6)
    with a_writer(tmp_path) as writing:
        kill_so_often(writing, dice, times=TIMES)
        freeze_so_often(writing, dice, times=TIMES)
        # the negative control: the same copies without stopping who writes
        assert copy_without_freezing(writing, times=1) == 1
