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
NO_TOKEN = (
    {},
    {"Origin": "https://elsewhere.example"},
    {"X-CSRFToken": "x" * 64},
    {"HX-Request": "true"},
)
pytestmark = pytest.mark.django_db


PROMISED = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
}
POLICY = ("frame-ancestors 'none'", "script-src 'self'", "default-src 'none'", "object-src 'none'")


@pytest.mark.parametrize("role", ["anonymous", "owner"])
def test_every_page_carries_the_headers(role):
    there = world()
    client = Client()
    if role != "anonymous":
        client.force_login(there.people[role].user)

    faults = []
    for row in READ:
        answer = client.get(row.address(there))
        policy = answer["Content-Security-Policy"]
        faults += [(str(row), name) for name, value in PROMISED.items() if answer[name] != value]
        faults += [(str(row), part) for part in POLICY if part not in policy]
        faults += [(str(row), part) for part in ("unsafe-inline", "unsafe-eval") if part in policy]

    assert faults == []


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


def test_every_form_needs_its_token():
    there = world()
    addresses = {str(row): row.address(there) for row in WRITTEN}
    client = Client(enforce_csrf_checks=True)
    client.force_login(there.people["owner"].user)
    client.get("/")
    before = everything()

    let_in = []
    for name, address in addresses.items():
        for headers in NO_TOKEN:
            status = client.post(address, headers=headers).status_code
            if status not in {403, 404, 405}:
                let_in.append((name, headers, status))

    assert let_in == []
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
