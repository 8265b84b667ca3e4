"""Audit rows stay as written, rows stay in their company: held by the database itself."""

from __future__ import annotations

import pytest
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction
from django.db.models import ForeignKey

from projects import triggers
from projects.models import AuditEntry, Elevation, House, Owned, Project
from projects.services import create_project, record
from tests.factories.houses import ElevationFactory, HouseFactory, ProjectFactory

pytestmark = pytest.mark.django_db


def test_every_wanted_trigger_is_in_the_database():
    wanted = {trigger.full_name for trigger in triggers.wanted()}

    assert set(triggers.installed()) == wanted
    assert len(wanted) == len(triggers.wanted())


def test_every_reference_between_owned_tables_is_guarded():
    installed = triggers.installed()

    unguarded = [
        f"{model.__name__}.{field.name}"
        for model in triggers.owned_models()
        for field in model._meta.concrete_fields
        if isinstance(field, ForeignKey)
        and issubclass(field.related_model, Owned)
        and list(installed.values()).count(model._meta.db_table) < 3
    ]

    assert unguarded == []


def test_no_owned_table_has_a_hidden_table_beside_it():
    hidden = [model for model in triggers.owned_models() if model._meta.local_many_to_many]

    assert hidden == []


@pytest.mark.parametrize("write", ["update", "delete"])
def test_an_audit_row_is_never_changed_or_deleted(owner, write):
    project = ProjectFactory(company=owner.company)
    entry = record(by=owner, action="edit project", subject=project)
    rows = AuditEntry.objects.of(owner.company).filter(pk=entry.pk)

    with pytest.raises(IntegrityError), transaction.atomic():
        rows.update(actor="somebody else") if write == "update" else rows._raw_delete("default")

    assert rows.get().actor == "Odalys Brandt"


def test_a_house_is_not_added_to_another_companys_project(company):
    foreign = ProjectFactory()

    with pytest.raises(IntegrityError), transaction.atomic():
        House.objects.create(company=company, project=foreign, code="LOT-1", name="Lot 1")

    assert not House.objects.of(company).exists()


def test_a_house_is_not_moved_to_another_companys_project(company):
    house = HouseFactory(project__company=company)
    foreign = ProjectFactory()

    with pytest.raises(IntegrityError), transaction.atomic():
        House.objects.of(company).filter(pk=house.pk).update(project=foreign)

    house.refresh_from_db()
    assert house.project.company == company


def test_a_row_never_changes_its_company(company):
    project = ProjectFactory()

    with pytest.raises(IntegrityError), transaction.atomic():
        Project.objects.filter(pk=project.pk).update(company=company)

    project.refresh_from_db()
    assert project.company != company


def test_bulk_writes_are_held_to_it_too(company):
    foreign = HouseFactory()
    faces = [Elevation(company=company, house=foreign, name=name) for name in ("Front", "Back")]

    with pytest.raises(IntegrityError), transaction.atomic():
        Elevation.objects.bulk_create(faces)

    assert not Elevation.objects.of(company).exists()


def test_without_the_trigger_the_same_write_passes(company):
    """The negative control: it is the trigger that refuses, nothing else."""
    house = HouseFactory(project__company=company)
    foreign = ProjectFactory()

    with triggers.lifted():
        House.objects.of(company).filter(pk=house.pk).update(project=foreign)

    house.refresh_from_db()
    assert house.project == foreign


def test_lifting_puts_every_trigger_up_again(owner):
    ElevationFactory(house__project__company=owner.company)
    before = triggers.installed()

    with triggers.lifted():
        assert triggers.installed() == {}

    assert triggers.installed() == before


def test_a_write_through_a_service_passes(owner):
    create_project(by=owner, code="ALDER", name="Alder Row", builder="Teasel Homes")

    assert AuditEntry.objects.of(owner.company).get().action == "create project"


@pytest.mark.django_db(transaction=True)
def test_tables_can_be_rebuilt_under_the_triggers():
    """SQLite rebuilds a table on ALTER; a trigger elsewhere that names it would refuse the rename."""
    before = triggers.installed()

    triggers.before_migrate(using="default")
    with connection.schema_editor() as editor:
        field = Project._meta.get_field("builder").clone()
        field.max_length = 130
        field.set_attributes_from_name("builder")
        editor.alter_field(Project, Project._meta.get_field("builder"), field)
    with connection.schema_editor() as editor:
        editor.alter_field(Project, field, Project._meta.get_field("builder"))
    call_command("migrate", verbosity=0)

    assert triggers.installed() == before
