"""I3 in full: killed at every statement of receiving, on both databases."""

from __future__ import annotations

import pytest

from tests.crashes.receiving_killed import kill_at_statements

pytestmark = pytest.mark.django_db(transaction=True)


def test_a_delivery_is_whole_or_not_there_at_whichever_statement_its_receiver_is_killed(site, tmp_path):
    kills = kill_at_statements(site, tmp_path, every=1)

    assert kills.nothing + kills.whole == kills.statements + 1
    assert kills.nothing > 0
    assert kills.whole > 0
