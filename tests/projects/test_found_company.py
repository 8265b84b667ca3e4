"""The command that sets up a company."""

from __future__ import annotations

import json

import pytest
from django.core.management import call_command

from projects.models import Company, Membership
from tests.factories.people import PASSWORD, UserFactory

pytestmark = pytest.mark.django_db
OWNER = {"owner_email": "odalys@setters.example", "owner_name": "Odalys Brandt", "name": "Harrow Lane"}


def test_the_owner_chooses_a_password_at_the_printed_address(client, capsys):
    call_command("found_company", "HARROW", json=True, **OWNER)
    document = json.loads(capsys.readouterr().out)

    client.post(document["address"], {"password": PASSWORD})
    answer = client.post("/sign-in/", {"username": "odalys@setters.example", "password": PASSWORD})

    assert (document["company"], document["problems"]) == ("HARROW", [])
    assert answer["Location"] == "/"
    assert Membership.objects.get().role == "owner"


def test_an_owner_who_signs_in_already_keeps_the_password(capsys):
    odalys = UserFactory(name="Odalys Brandt")

    call_command("found_company", "HARROW", json=True, **OWNER)

    assert json.loads(capsys.readouterr().out)["address"] is None
    odalys.refresh_from_db()
    assert odalys.check_password(PASSWORD)


def test_a_code_in_use_is_refused_with_exit_one(company, capsys):
    with pytest.raises(SystemExit) as left:
        call_command("found_company", "harrow", json=True, **OWNER)

    assert left.value.code == 1
    assert json.loads(capsys.readouterr().out)["problems"][0]["problem"].startswith("Company code harrow is")
    assert Company.objects.count() == 1
