"""R21: over all forms there are, fields that a form does not have change nothing."""

from __future__ import annotations

import datetime as dt

import pytest
import time_machine
from django.db import models, transaction
from django.http import HttpResponse
from django.test import Client
from django.urls import include, path

from projects import triggers
from projects.access import without_sign_in
from projects.models import House, User
from tests.access import entries, matrix
from tests.access.tables import differences, everything
from tests.access.world import world
from tests.factories.people import CompanyFactory

pytestmark = pytest.mark.django_db
FORMS = [row for row in matrix.rows() if row.method == "POST" and row.expected["owner"] not in {404, 405}]
NOW = dt.datetime(2026, 6, 1, 9, 30, tzinfo=dt.UTC)
# names that no table has, tried all the same
INVENTED = {
    "is_staff": "on",
    "is_superuser": "on",
    "status": "issued",
    "price": "0",
    "pk": "1",
    "role_id": "1",
}


def foreign_columns():
    """Return every column of every table that people's data is in, with a value that it would take."""
    foreign = str(CompanyFactory().pk)
    tried = dict(INVENTED)
    for model in [*triggers.owned_models(), User]:
        for field in model._meta.concrete_fields:
            value = tempting(field, foreign)
            tried |= {field.name: value, field.attname: value}
    return tried


def tempting(field, foreign):
    match field:
        case models.ForeignKey():
            return foreign
        case models.BooleanField():
            return "on" if field.get_default() is not True else "false"
        case models.DateTimeField() | models.DateField():
            return "2026-01-01"
        case models.IntegerField():
            return foreign
        case models.JSONField():
            return "{}"
        case _:
            return str(field.choices[0][0]) if field.choices else "stolen"


class _Rollback(Exception):
    pass


def sent(client, address, entry):
    """Return the answer and what then stands in every table; all of it is rolled back."""
    answer, state = None, None
    try:
        with transaction.atomic(), time_machine.travel(NOW, tick=False):
            answer = client.post(address, rewound(entry))
            state = everything()
            raise _Rollback
    except _Rollback:
        return answer, state


def rewound(entry):
    for value in entry.values():
        if hasattr(value, "seek"):
            value.seek(0)
    return entry


def signed_in(there, row):
    client = Client()
    if row.route != "sign-in":
        client.force_login(there.people["owner"].user)
    return client


@pytest.mark.parametrize("row", FORMS, ids=lambda row: row.route)
def test_fields_that_a_form_does_not_have_change_nothing(row):
    there = world()
    address = row.address(there)
    client = signed_in(there, row)
    honest, names = entries.entry_for(row, address, client=client, there=there)
    others = {name: value for name, value in foreign_columns().items() if name not in names}
    before = everything()

    plain, alone = sent(client, address, honest)
    loaded, together = sent(signed_in(there, row), address, {**others, **honest})

    assert plain.status_code in {200, 302}, f"give {row.route} an entry in tests/access/entries.py"
    assert (alone != before) == (row.route not in entries.WRITE_NOTHING), "see tests/access/entries.py"
    assert len(others) >= 20
    assert loaded.status_code == plain.status_code
    assert differences(alone, together) == []


@without_sign_in
def careless(request, pk):
    """Write whatever the form brings, as no view of ours does."""
    columns = {field.name for field in House._meta.concrete_fields} & {"archived", "name", "plan_name"}
    House.objects.filter(pk=pk).update(**{name: request.POST[name] for name in columns & set(request.POST)})
    return HttpResponse()


urlpatterns = [path("careless/<int:pk>/", careless), path("", include("config.urls"))]


@pytest.mark.urls(__name__)
def test_a_view_that_takes_what_it_is_given_would_be_seen():
    """The negative control."""
    there = world()
    house = there.thing("house")
    client = Client()

    _, alone = sent(client, f"/careless/{house.pk}/", {"name": "Lot 7"})
    _, together = sent(client, f"/careless/{house.pk}/", {"plan_name": "stolen", "name": "Lot 7"})

    assert len(differences(alone, together)) == 2
