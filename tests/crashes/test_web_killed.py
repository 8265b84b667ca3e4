"""R8, in short: once in the middle of each of four forms. The full count is in `tests/deep`."""

from __future__ import annotations

import random

import pytest

from tests.crashes.web_killed import DEEDS, kill_so_often

pytestmark = pytest.mark.django_db(transaction=True)


def test_a_form_whose_process_was_killed_is_done_once_when_sent_again(site, tmp_path):
    kill_so_often(site, tmp_path, random.Random(8), times=len(DEEDS))
