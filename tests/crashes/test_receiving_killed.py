"""I3, in short: killed at every fifth statement. Every one is in `tests/deep`."""

from __future__ import annotations

import pytest

from materials.models import Delivery
from tests.crashes.receiving_killed import NOTHING, WHOLE, kill_at_statements, there_of

pytestmark = pytest.mark.django_db(transaction=True)


def test_a_delivery_is_whole_or_not_there_wherever_its_receiver_is_killed(site, tmp_path):
    kills = kill_at_statements(site, tmp_path, every=5)

    # killed before it was kept, and after it was kept and before it was answered
    assert kills.nothing > 0
    assert kills.whole > 0


def test_negative_control_a_delivery_without_its_movement_is_seen(site):
    order = site.issued()
    Delivery.objects.create(
        company=site.by.company, order=order, at=order.issued_at, key="came", body_hash="0" * 64
    )

    assert there_of(order) not in (NOTHING, WHOLE)
