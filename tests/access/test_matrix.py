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
@pytest.mark.parametrize("role", matrix.ROLES)
def test_each_role_gets_what_the_matrix_says(role):
    there = world()

    found = {str(row): ask(row, role, there).status_code for row in ROWS}

    expected = {str(row): row.expected[role] for row in ROWS}
    assert {name: status for name, status in found.items() if status != expected[name]} == {}


@pytest.mark.django_db
def test_another_companys_thing_is_as_if_it_were_not_there():
    there = world()
    client = Client()
    client.force_login(there.people["stranger"].user)

    different = []
    for row in ROWS:
        if "=" not in row.arguments or row.expected["stranger"] != 404:
            continue
        address, missing = row.address(there), row.address(there, missing=True)
        foreign, nothing = client.generic(row.method, address), client.generic(row.method, missing)
        same = without_token(foreign) == without_token(nothing).replace(missing.encode(), address.encode())
        if not same or {foreign.status_code, nothing.status_code} != {404}:
            different.append(str(row))

    assert different == []


def without_token(answer):
    """Return the page without its CSRF tokens, which differ on every page."""
    parts = answer.content.split(b'csrfmiddlewaretoken" value="')
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
        (address, method): client.generic(method, address).status_code
        for address in addresses
        for method in ("PUT", "DELETE")
    }

    assert set(found.values()) <= {405, 302, 404}
