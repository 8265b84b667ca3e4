"""What was typed into an ended session: kept, shown after signing in, sent by hand."""

from __future__ import annotations

import pytest
from django.test import Client

from projects.models import Project
from tests.factories.people import PASSWORD

pytestmark = pytest.mark.django_db


PROJECT = {"code": "ALDER", "name": "Alder Row", "builder": "Teasel Homes"}


def sign_in(client, membership, **more):
    return client.post("/sign-in/", {"username": membership.user.email, "password": PASSWORD, **more})


def test_a_form_sent_too_late_is_kept_and_sent_again(client, manager):
    sent = client.post("/projects/new/", PROJECT)
    assert sent["Location"] == "/sign-in/?next=%2Fkept%2F"
    assert "your entry is kept" in client.get(sent["Location"]).content.decode()

    page = sign_in(client, manager, next="/kept/")
    shown = client.get(page["Location"]).content.decode()
    assert 'action="/projects/new/"' in shown
    assert 'name="builder" value="Teasel Homes"' in shown

    client.post("/projects/new/", {**PROJECT, "kept_entry": "yes"})
    assert Project.objects.of(manager.company).get().name == "Alder Row"
    assert "Nothing is kept." in client.get("/kept/").content.decode()


def test_a_form_with_an_old_token_is_kept_too(manager):
    client = Client(enforce_csrf_checks=True)
    client.force_login(manager.user)

    refused = client.post("/projects/new/", PROJECT)

    assert refused.status_code == 403
    assert "your entry is kept" in refused.content.decode()
    assert 'value="Teasel Homes"' in client.get("/kept/").content.decode()


def test_a_form_of_another_site_is_not_kept(manager):
    client = Client(enforce_csrf_checks=True)
    client.force_login(manager.user)

    client.post("/projects/new/", PROJECT, headers={"Origin": "https://evil.example"})

    assert "Nothing is kept." in client.get("/kept/").content.decode()


def test_a_password_is_never_kept(client, manager):
    client.post(
        "/password/", {"old_password": PASSWORD, "password": "level the sill before the head", "note": "x"}
    )
    sign_in(client, manager)

    page = client.get("/kept/").content.decode()
    assert "level the sill" not in page
    assert PASSWORD not in page
