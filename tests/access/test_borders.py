"""R20: ids of another company in paths and bodies, and prices on the pages of those who may see none."""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import replace

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import include, path
from django.views.decorators.csrf import csrf_exempt

from projects.access import allowed, without_sign_in
from projects.models import House, Role
from projects.rights import Action
from tests.access import entries, matrix
from tests.access.tables import differences, everything
from tests.access.test_matrix import ask
from tests.access.world import MAKERS, world
from tests.factories.orders import SupplierFactory
from tests.factories.people import CompanyFactory, MembershipFactory

pytestmark = pytest.mark.django_db
ROWS = matrix.rows()
PRICE = re.compile(r"\$\s?\d|\d\s?USD\b")


def signed_in(person):
    client = Client(raise_request_exception=False)
    client.force_login(person.user)
    return client


def mixed_addresses(there):
    """Yield each address of several things with one of them another company's."""
    abroad = replace(there, company=CompanyFactory(code="ABROAD"), made={})
    for row in ROWS:
        things = [part for part in row.arguments.split() if "=" in part]
        for swapped in things if len(things) > 1 else []:
            name = swapped.partition("=")[2]
            mixed = replace(there, made={**there.made, name: abroad.thing(name)})
            yield row, row.address(mixed)


def test_an_address_with_one_foreign_thing_is_not_there():
    there = world()
    for name in MAKERS:
        there.thing(name)
    mixed, client = list(mixed_addresses(there)), signed_in(there.people["owner"])
    before = everything()

    found = {(row.method, address): client.generic(row.method, address).status_code for row, address in mixed}

    assert set(found.values()) <= {404, 405}, found
    assert 404 in found.values()
    assert everything() == before


def body_swaps(there):
    """Return forms that carry the id of a row in their body, with a foreign one in its place."""
    abroad = CompanyFactory(code="ABROAD")
    supplier, person = SupplierFactory(company=abroad), MembershipFactory(company=abroad, role=Role.FOREMAN)
    return {
        "price-add": {"supplier": str(supplier.pk)},
        "crew-create": {"foreman": str(person.user_id)},
        "crew-edit": {"foreman": str(person.user_id)},
        "member-create": {"user": str(person.user_id)},
        "member-edit": {"user": str(person.user_id)},
    }


@pytest.mark.parametrize("route", ["price-add", "crew-create", "crew-edit", "member-create", "member-edit"])
def test_a_foreign_id_in_a_body_is_refused(route):
    there = world()
    row = next((row for row in ROWS if (row.route, row.method) == (route, "POST")), None)
    assert row is not None
    swapped = body_swaps(there)[route]
    address = row.address(there)
    client = signed_in(there.people["owner"])
    entry, names = entries.entry_for(row, address, client=client, there=there)
    before = everything()

    answer = client.post(address, {**entry, **swapped})

    assert set(swapped) <= names
    assert answer.status_code == 422
    assert differences(before, everything()) == []


def test_nobody_switches_to_a_company_of_others():
    there = world()
    abroad = there.people["stranger"].company
    client = signed_in(there.people["owner"])

    client.post("/company/switch/", {"company": str(abroad.pk)})

    assert client.get("/").context["company"] == there.company


@pytest.mark.parametrize("role", ["crew", "foreman"])
def test_no_price_reaches_who_may_see_none(role):
    there = world()
    for name in MAKERS:
        there.thing(name)
    client, owner = signed_in(there.people[role]), signed_in(there.people["owner"])
    priced = 0

    for row in [row for row in ROWS if row.method == "GET"]:
        address = row.address(there)
        for headers in ({}, {"HX-Request": "true"}, {"Accept": "application/json"}):
            answer = client.get(address, headers=headers)
            assert not PRICE.search(body(answer)), address
        priced += bool(PRICE.search(body(owner.get(address))))

    # the same look at the owner's pages does find prices
    assert priced >= 3


def body(answer):
    content = b"".join(answer) if answer.streaming else answer.content
    if content.startswith(b"PK"):  # a workbook is looked into, for packed bytes spell anything
        with zipfile.ZipFile(io.BytesIO(content)) as parts:
            content = b"\n".join(parts.read(name) for name in parts.namelist())
    return content.decode(errors="replace")


@allowed(Action.SEE_HOUSES)
def careless_house(request, pk):
    """Show a house of whatever company, as no view of ours does."""
    return HttpResponse(House.objects.get(pk=pk).name)


@without_sign_in
@csrf_exempt
def careless_form(request, pk):
    """Write without a token, and for a mere look."""
    House.objects.filter(pk=pk).update(name="seen")
    return HttpResponse()


urlpatterns = [
    path("careless/<int:pk>/", careless_house, name="careless-house"),
    path("careless/<int:pk>/write/", careless_form, name="careless-form"),
    path("", include("config.urls")),
]


@pytest.mark.urls(__name__)
def test_a_view_without_the_companys_filter_would_be_seen():
    """The negative control of the matrix: the stranger gets 200 instead of 404."""
    there = world()
    expected = {"anonymous": 302, "crew": 403, "foreman": 200, "manager": 200, "owner": 200, "stranger": 404}
    row = matrix.Row(route="careless-house", method="GET", arguments="pk=house", expected=expected)

    found = {role: ask(row, role, there).status_code for role in matrix.ROLES}

    assert found == {**expected, "stranger": 200}


@pytest.mark.urls(__name__)
def test_a_route_without_a_row_would_be_seen():
    """The negative control of the matrix: two addresses of this file have no rows."""
    named = {pattern.name for pattern in matrix.routes()}

    assert named - {row.route for row in ROWS} == {"careless-house", "careless-form"}


@pytest.mark.urls(__name__)
def test_a_look_that_writes_and_a_form_without_a_token_would_be_seen():
    """The negative control of R24."""
    there = world()
    address = f"/careless/{there.thing('house').pk}/write/"
    before = everything()

    looked = Client(enforce_csrf_checks=True).get(address)
    after_looking = everything()
    House.objects.of(there.company).update(name="Lot 1")
    sent = Client(enforce_csrf_checks=True).post(address)

    assert (looked.status_code, sent.status_code) == (200, 200)
    assert differences(before, after_looking) != []
