"""Somebody who asks, work to be carried out, and a place for files."""

from __future__ import annotations

import pytest

from projects import jobs, nudge
from tests.factories.people import dana, harrow


@pytest.fixture
def by():
    return dana(harrow())


@pytest.fixture
def work(monkeypatch):
    """Register a kind for one test and count how often it was carried out."""

    def register(carry_out, name="order"):
        runs = []

        def counted(run):
            runs.append(run)
            return carry_out(run)

        monkeypatch.setitem(jobs.KINDS, name, counted)
        return runs

    return register


@pytest.fixture
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


@pytest.fixture
def unreachable_broker(settings):
    settings.CELERY_BROKER_URL = "redis://127.0.0.1:1/0"
    settings.CELERY_BROKER_TRANSPORT_OPTIONS = {}
    nudge.forget_what_was_seen()
    yield
    nudge.forget_what_was_seen()
