"""A person and the company they work for, and how their pages look."""

from __future__ import annotations

import pytest

from tests.factories.houses import ProjectFactory
from tests.factories.people import PASSWORD, CompanyFactory, MembershipFactory, UserFactory

pytestmark = pytest.mark.django_db


def sign_in(client, membership, **more):
    return client.post("/sign-in/", {"username": membership.user.email, "password": PASSWORD, **more})


def test_a_person_of_two_companies_chooses_where_to_work(client):
    both = UserFactory(name="Tove Ashgrove")
    first = MembershipFactory(user=both, company=CompanyFactory(name="Alder Setters"))
    second = MembershipFactory(user=both, company=CompanyFactory(name="Birch Setters"))
    ProjectFactory(company=second.company, name="Tarn Hill Lane")
    sign_in(client, first)
    assert "Tarn Hill Lane" not in client.get("/projects/").content.decode()

    client.post("/company/switch/", {"company": second.company_id})

    assert "Tarn Hill Lane" in client.get("/projects/").content.decode()


def test_nobody_works_for_a_company_they_are_not_in(client, manager):
    foreign = ProjectFactory(name="Tarn Hill Lane").company
    sign_in(client, manager)

    client.post("/company/switch/", {"company": foreign.pk})

    assert "Tarn Hill Lane" not in client.get("/projects/").content.decode()


def test_one_company_needs_no_switch(client, manager):
    sign_in(client, manager)

    assert "company/switch" not in client.get("/").content.decode()


def test_a_person_without_a_company_reads_what_to_do(client):
    client.force_login(UserFactory())

    answer = client.get("/")

    assert answer.status_code == 403
    assert "Ask the owner of your company to let you in." in answer.content.decode()


def test_the_choice_of_light_or_dark_is_kept(client, manager):
    sign_in(client, manager)

    client.post("/appearance/", {"appearance": "dark", "back": "/projects/"})
    page = client.get("/projects/").content.decode()

    assert '<html lang="en" data-appearance="dark">' in page


def test_appearance_leads_back_to_our_own_pages_only(client, db):
    assert client.post("/appearance/", {"back": "https://evil.example/"})["Location"] == "/"
    assert client.post("/appearance/", {"back": "/projects/"})["Location"] == "/projects/"
