"""R12: I/O errors at random under SQLite lose nothing acknowledged, are told in plain words, and pass."""

from __future__ import annotations

import pytest

from tests.crashes.failing_disk import MISSING, REFUSALS, fail_so_often, is_there, wrong_with

pytestmark = [pytest.mark.embedded, pytest.mark.django_db(transaction=True)]


@pytest.fixture(autouse=True)
def _libfiu_is_there():
    if not is_there():
        pytest.fail(MISSING, pytrace=False)


def test_a_disk_that_fails_at_random_loses_nothing_is_said_and_passes(site, tmp_path):
    seen = fail_so_often(site, tmp_path, times=20, refusals=5, chance=0.03)

    assert seen.recovered == 20
    assert sum(seen.statuses[status] for status in REFUSALS) >= 100
    # 0 is no answer: the server was killed at the end
    assert set(seen.statuses) <= {302, 0, *REFUSALS}
    assert any("disk is full or failing; nothing was saved" in words for words in seen.words)
    assert wrong_with(seen) == []
    # negative control: a form that was refused is not there, and would be missed had it been acknowledged
    seen.acknowledged.append(("received", "refused-for-good"))
    assert wrong_with(seen) == ["lost 1 acknowledged"]
