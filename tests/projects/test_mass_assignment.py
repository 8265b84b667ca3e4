"""R21: a form takes its own fields; twenty others that rows have change nothing."""

from __future__ import annotations

import pytest
from django.forms.models import model_to_dict

from projects.models import Company, House, Membership, Project, User
from tests.factories.houses import HouseFactory, ProjectFactory
from tests.factories.people import CompanyFactory

pytestmark = pytest.mark.django_db
OTHERS = [
    *("id", "pk", "company", "company_id", "is_staff", "is_superuser", "is_active", "active", "archived"),
    *("status", "state", "price", "issued_at", "created_by", "user", "user_id", "session_round", "project"),
    *("project_id", "password"),
]


@pytest.fixture
def boss(client, owner):
    client.force_login(owner.user)
    return client


def with_others(values):
    return {**dict.fromkeys(OTHERS, str(CompanyFactory().pk)), **values}


def test_twenty_names_are_tried():
    assert len(set(OTHERS)) == 20


def test_a_new_project_takes_its_own_fields_only(boss, company):
    boss.post(
        "/projects/new/", with_others({"code": "ALDER", "name": "Alder Row", "builder": "Teasel Homes"})
    )

    project = Project.objects.get()
    assert (project.company, project.archived, project.version) == (company, False, 1)


def test_an_edited_project_takes_its_own_fields_only(boss, company):
    project = ProjectFactory(company=company, code="ALDER", name="Alder Row")
    before = model_to_dict(project)

    boss.post(
        f"/projects/{project.pk}/edit/",
        with_others({**before, "name": "Alder Yard", "archived": "on", "version": "1"}),
    )

    project.refresh_from_db()
    assert model_to_dict(project) == {**before, "name": "Alder Yard", "version": 2}


def test_an_edited_house_takes_its_own_fields_only(boss, company):
    house = HouseFactory(project__company=company)
    before = model_to_dict(house)
    elsewhere = ProjectFactory(company=company)

    boss.post(
        f"/houses/{house.pk}/edit/",
        with_others({"code": house.code, "name": "Lot 7", "version": "1", "project": str(elsewhere.pk)}),
    )

    house.refresh_from_db()
    assert model_to_dict(house) == {**before, "name": "Lot 7", "plan_name": "", "version": 2}


def test_a_new_house_stays_in_the_project_of_its_address(boss, company):
    project, elsewhere = ProjectFactory(company=company), ProjectFactory(company=company)

    boss.post(
        f"/projects/{project.pk}/houses/new/",
        with_others({"code": "LOT-1", "name": "Lot 1", "project": str(elsewhere.pk)}),
    )

    house = House.objects.of(company).get()
    assert (house.project, house.archived, house.version) == (project, False, 1)


def test_an_invited_person_takes_its_own_fields_only(boss, company):
    boss.post(
        "/people/invite/", with_others({"name": "Wren Idle", "email": "wren@setters.example", "role": "crew"})
    )

    wren = User.objects.get(email="wren@setters.example")
    membership = Membership.objects.get(user=wren)
    assert (membership.company, membership.role, membership.active) == (company, "crew", True)
    assert not wren.has_usable_password()
    assert wren.session_round == 1


def test_a_changed_role_changes_nothing_else(boss, manager):
    before = model_to_dict(manager)

    boss.post(f"/people/{manager.pk}/", with_others({"role": "foreman", "version": "1"}))

    manager.refresh_from_db()
    assert model_to_dict(manager) == {**before, "role": "foreman", "version": 2}


def test_edited_settings_keep_code_and_currency(boss, company):
    form = {"name": "Harrow Lane", "time_zone": "America/Phoenix", "sheets_hour": "17"}
    form |= {"claim_days": "5", "paper": "a4", "version": "1"}

    boss.post("/company/", with_others({**form, "code": "STOLEN", "currency": "EUR"}))

    found = Company.objects.get(pk=company.pk)
    assert (found.code, found.currency, found.time_zone, found.sheets_hour) == (
        "HARROW",
        "USD",
        "America/Phoenix",
        17,
    )
