"""Every address, every method, every role: exactly the status that the matrix says."""

from __future__ import annotations

import pytest
from django.db import transaction
from django.test import Client

from tests.access import matrix
from tests.access.world import world

ROWS = matrix.rows()


class _Rollback(Exception):
    pass


def ask(row, role, there):
    """Return the answer that the role gets; what it wrote is rolled back."""
    client = Client(raise_request_exception=False)
    address = row.address(there)
    if role != "anonymous":
        client.force_login(there.people[role].user)
    answer = None
    try:
        with transaction.atomic():
            answer = client.generic(row.method, address, content_type="application/x-www-form-urlencoded")
            raise _Rollback
    except _Rollback:
        return answer


def test_every_address_has_a_name_and_a_row_per_method():
    named = {pattern.name for pattern in matrix.routes()}
    told = {(row.route, row.method) for row in ROWS}

    assert None not in named
    missing = [
        (name, method) for name in sorted(named) for method in matrix.METHODS if (name, method) not in told
    ]
    assert missing == []
    assert {route for route, _ in told} <= named
    assert len(told) == len(ROWS)


def test_every_view_says_who_may_open_it():
    open_to_whom = [
        pattern.name
        for pattern in matrix.routes()
        if not getattr(pattern.callback, "is_public", False) and not hasattr(pattern.callback, "action")
    ]

    assert open_to_whom == []


@pytest.mark.django_db
@pytest.mark.parametrize("row", ROWS, ids=str)
def test_each_role_gets_what_the_matrix_says(row):
    there = world()

    found = {role: ask(row, role, there).status_code for role in matrix.ROLES}

    assert found == row.expected


@pytest.mark.django_db
@pytest.mark.parametrize(
    "row", [row for row in ROWS if "=" in row.arguments and 404 in row.expected.values()], ids=str
)
def test_another_companys_thing_is_as_if_it_were_not_there(row):
    there = world()
    address = row.address(there)
    client = Client()
    client.force_login(there.people["stranger"].user)
    number = str(next(iter(there.made.values())).pk)

    foreign = client.generic(row.method, address)
    missing = client.generic(row.method, address.replace(f"/{number}/", "/999999/"))

    assert foreign.status_code == missing.status_code == 404
    assert without_token(foreign) == without_token(missing).replace(b"/999999/", f"/{number}/".encode())


def without_token(answer):
    """Return the page without its CSRF tokens, which differ on every page."""
    token = answer.context["csrf_token"] if answer.context else ""
    parts = answer.content.split(b'csrfmiddlewaretoken" value="')
    assert str(token) != "None"
    body = b"|".join([parts[0], *[part.split(b'"', 1)[1] for part in parts[1:]]])
    head, _, tail = body.partition(b'"X-CSRFToken": "')
    return head + tail.partition(b'"')[2]


@pytest.mark.django_db
def test_other_methods_are_refused_everywhere():
    there = world()
    client = Client()
    client.force_login(there.people["owner"].user)
    addresses = {row.address(there) for row in ROWS}

    found = {
        (address, m): client.generic(m, address).status_code
        for address in addresses
        for m in ("PUT", "DELETE")
    }

    assert set(found.values()) <= {405, 302, 404}
