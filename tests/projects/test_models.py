"""What the database refuses, whoever writes."""

from __future__ import annotations

import pytest
from django.db import DataError, IntegrityError, connection, transaction

from projects.models import (
    AuditEntry,
    Company,
    Counter,
    Elevation,
    HeaderMatch,
    House,
    Membership,
    Project,
    Role,
    User,
)
from tests.factories.houses import ElevationFactory, HouseFactory, ProjectFactory
from tests.factories.people import CompanyFactory, MembershipFactory, UserFactory

pytestmark = pytest.mark.django_db


def refused(write, model):
    """Assert that `write` fails in the database and leaves no row behind."""
    before = model._default_manager.count()
    # PostgreSQL cuts nothing off: it refuses a text that is too long before the check does
    with pytest.raises((IntegrityError, DataError)), transaction.atomic():
        write()
    assert model._default_manager.count() == before


def test_company_codes_are_unique_in_any_case():
    CompanyFactory(code="HARROW")

    refused(lambda: CompanyFactory(code="harrow"), Company)


@pytest.mark.parametrize(
    "values",
    [
        {"code": ""},
        {"code": "X" * 33},
        {"name": ""},
        {"name": "X" * 121},
        {"currency": "US"},
        {"sheets_hour": 24},
        {"version": 0},
    ],
)
def test_a_company_has_lawful_values(values):
    refused(lambda: CompanyFactory(**values), Company)


def test_an_address_signs_in_one_person():
    UserFactory(email="dana@setters.example")

    refused(lambda: UserFactory(email="dana@setters.example"), User)


@pytest.mark.parametrize(
    "values",
    [
        {"email": "Dana@setters.example"},
        {"email": ""},
        {"name": ""},
        {"name": "X" * 121},
        {"session_round": 0},
    ],
)
def test_a_person_has_lawful_values(values):
    refused(lambda: UserFactory(**values), User)


def test_a_person_belongs_to_a_company_once():
    dana = MembershipFactory()

    refused(lambda: MembershipFactory(company=dana.company, user=dana.user, role=Role.CREW), Membership)


@pytest.mark.parametrize("values", [{"role": "king"}, {"role": ""}, {"version": 0}])
def test_a_membership_has_a_known_role(values):
    refused(lambda: MembershipFactory(**values), Membership)


def test_project_codes_are_unique_in_a_company_in_any_case():
    project = ProjectFactory(code="ALDER")

    refused(lambda: ProjectFactory(company=project.company, code="alder"), Project)
    assert ProjectFactory(code="ALDER").company != project.company


@pytest.mark.parametrize(
    "values",
    [
        {"code": ""},
        {"code": "X" * 33},
        {"name": ""},
        {"name": "X" * 121},
        {"builder": ""},
        {"builder": "X" * 121},
        {"delivery_place": "X" * 201},
        {"weather_place": "X" * 121},
        {"version": 0},
    ],
)
def test_a_project_has_lawful_values(values):
    refused(lambda: ProjectFactory(**values), Project)


def test_house_codes_are_unique_in_a_company_over_all_projects():
    house = HouseFactory(code="LOT-1")
    elsewhere = ProjectFactory(company=house.company)

    refused(lambda: HouseFactory(project=elsewhere, code="lot-1"), House)
    assert HouseFactory(code="LOT-1").company != house.company


@pytest.mark.parametrize(
    "values",
    [
        {"code": ""},
        {"code": "X" * 33},
        {"name": ""},
        {"name": "X" * 121},
        {"plan_name": "X" * 121},
        {"version": 0},
    ],
)
def test_a_house_has_lawful_values(values):
    refused(lambda: HouseFactory(**values), House)


def test_a_house_has_one_elevation_of_a_name():
    front = ElevationFactory(name="Front")

    refused(lambda: ElevationFactory(house=front.house, name="FRONT"), Elevation)


@pytest.mark.parametrize("values", [{"name": ""}, {"name": "X" * 65}, {"access": "rope"}, {"version": 0}])
def test_an_elevation_has_lawful_values(values):
    refused(lambda: ElevationFactory(**values), Elevation)


def test_a_project_with_houses_is_not_deleted():
    house = HouseFactory()

    refused(lambda: delete_behind_djangos_back(house.project), Project)


def delete_behind_djangos_back(row):
    type(row)._default_manager.filter(pk=row.pk)._raw_delete("default")
    # references are checked when the transaction ends
    connection.check_constraints()


def test_a_counter_exists_once_per_kind_and_year():
    company = CompanyFactory()
    Counter.objects.create(company=company, kind="order", year=2026)

    refused(lambda: Counter.objects.create(company=company, kind="order", year=2026), Counter)


def test_headers_are_remembered_once_per_builder():
    company = CompanyFactory()
    HeaderMatch.objects.create(company=company, builder="Teasel Homes")

    refused(lambda: HeaderMatch.objects.create(company=company, builder="TEASEL HOMES"), HeaderMatch)


def test_an_audit_row_names_its_actor():
    company = CompanyFactory()

    refused(
        lambda: AuditEntry.objects.create(
            company=company,
            at="2026-11-25T08:00Z",
            actor="",
            action="edit",
            subject_kind="x",
            subject_id=1,
            subject_name="x",
        ),
        AuditEntry,
    )
