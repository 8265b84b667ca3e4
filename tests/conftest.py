"""What many tests start from: the cast, and a client signed in as each of them."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test import Client

from projects import triggers
from tests.factories import people


@pytest.fixture(autouse=True)
def _triggers_let_the_flush_pass(request):
    """SQLite empties tables row by row, which append-only rows refuse; the flush puts triggers up again."""
    flushed = {"transactional_db", "live_server"} & set(request.fixturenames)
    marker = request.node.get_closest_marker("django_db")
    if not flushed and not (marker and marker.kwargs.get("transaction")):
        yield
        return
    request.getfixturevalue("transactional_db")
    yield
    if connection.vendor == "sqlite":
        triggers.remove()


@pytest.fixture
def company(db):
    return people.harrow()


@pytest.fixture
def owner(company):
    return people.odalys(company)


@pytest.fixture
def manager(company):
    return people.dana(company)


@pytest.fixture
def foreman(company):
    return people.ferris(company)


@pytest.fixture
def hand(company):
    return people.juno(company)


@pytest.fixture
def stranger(db):
    return people.sable()


@pytest.fixture
def client_of():
    """Return a browser of one's own for each person."""

    def signed_in(membership):
        client = Client()
        client.force_login(membership.user)
        return client

    return signed_in
