"""What holds of every answer: its headers, its cookies, and that looking changes nothing."""

from __future__ import annotations

import hashlib

import pytest
from django.apps import apps
from django.contrib.sessions.models import Session
from django.test import Client

from tests.access import matrix
from tests.access.world import world

READ = [row for row in matrix.rows() if row.method == "GET"]
WRITTEN = [row for row in matrix.rows() if row.method == "POST"]
pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("row", READ, ids=str)
@pytest.mark.parametrize("role", ["anonymous", "owner"])
def test_every_page_carries_the_headers(row, role):
    there = world()
    client = Client()
    if role != "anonymous":
        client.force_login(there.people[role].user)

    answer = client.get(row.address(there))

    policy = answer["Content-Security-Policy"]
    assert "frame-ancestors 'none'" in policy
    assert "unsafe-inline" not in policy
    assert "unsafe-eval" not in policy
    assert "script-src 'self'" in policy
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["X-Frame-Options"] == "DENY"
    assert answer["Referrer-Policy"] == "same-origin"


def test_cookies_are_kept_from_scripts_and_other_sites():
    there = world()
    client = Client()

    client.post(
        "/sign-in/", {"username": there.people["owner"].user.email, "password": "plumb level and square"}
    )
    client.post("/appearance/", {"appearance": "dark"})

    assert client.cookies["sessionid"]["httponly"]
    assert client.cookies["sessionid"]["samesite"] == "Lax"
    assert client.cookies["appearance"]["httponly"]
    assert client.cookies["appearance"]["samesite"] == "Lax"


def test_looking_at_every_page_writes_nothing():
    there = world()
    addresses = [row.address(there) for row in READ]
    client = Client()
    client.force_login(there.people["owner"].user)
    client.get("/")
    before = everything()

    for address in addresses:
        client.get(address)
        client.get(address, headers={"HX-Request": "true"})

    assert everything() == before


def everything():
    """Return a hash of every table but the sessions."""
    tables = hashlib.sha256()
    for model in apps.get_models():
        if model is not Session:
            for row in model._default_manager.order_by("pk").values_list():
                tables.update(repr((model.__name__, row)).encode())
    return tables.hexdigest()


@pytest.mark.parametrize("row", WRITTEN, ids=str)
def test_every_form_needs_its_token(row):
    there = world()
    address = row.address(there)
    client = Client(enforce_csrf_checks=True)
    client.force_login(there.people["owner"].user)
    client.get("/")
    before = everything()

    bare = client.post(address)
    foreign = client.post(address, headers={"Origin": "https://elsewhere.example"})
    wrong = client.post(address, headers={"X-CSRFToken": "x" * 64})
    part = client.post(address, headers={"HX-Request": "true"})

    allowed_anyway = {405, 404} if row.expected["owner"] in {405, 404} else {403}
    for answer in (bare, foreign, wrong, part):
        assert answer.status_code in {403, *allowed_anyway}
    assert everything() == before


def test_the_token_of_the_page_lets_htmx_send():
    there = world()
    client = Client(enforce_csrf_checks=True)
    client.force_login(there.people["manager"].user)
    token = client.get("/projects/").context["csrf_token"]

    answer = client.post("/projects/new/", headers={"X-CSRFToken": str(token), "HX-Request": "true"})

    assert answer.status_code == 422


def test_a_write_address_tells_what_it_takes():
    there = world()
    client = Client()
    client.force_login(there.people["owner"].user)

    answer = client.get("/sign-out/")

    assert answer.status_code == 405
    assert answer["Allow"] == "POST"
