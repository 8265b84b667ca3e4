"""I10: no row points to another company's row, however the reference is written."""

from __future__ import annotations

import pytest
from django.db import IntegrityError, models, transaction

from projects import triggers
from projects.models import Owned
from tests.factories.people import CompanyFactory
from tests.factories.rows import a_row

pytestmark = pytest.mark.django_db
# rows that are never changed at all say so before anything else
BORDER = "another company|never changed"
STAYS = "change its company|never changed"
# what a row has in place of this reference: it has one of them alone
INSTEAD = {"CutList.order": ("house",)}
SWAP, INSERT, BULK = "swap", "insert", "bulk insert"


def references():
    """Return each reference from an owned table to an owned table."""
    return [
        pytest.param(model, field, id=f"{model.__name__}.{field.name}")
        for model in triggers.owned_models()
        for field in model._meta.concrete_fields
        if isinstance(field, models.ForeignKey) and issubclass(field.related_model, Owned)
    ]


def point_abroad(model, field, way):
    """Write the reference to a row of another company in one of the ways there are."""
    row = a_row(model, CompanyFactory())
    foreign = a_row(field.related_model, CompanyFactory())
    # what came with it, a line of an order say, must not be in the way: it is the border that refuses
    if field.related_model is not model:
        model._default_manager.filter(company=foreign.company)._raw_delete("default")
    if way == SWAP:
        instead = dict.fromkeys(INSTEAD.get(f"{model.__name__}.{field.name}", ()))
        model._default_manager.filter(pk=row.pk).update(**{field.name: foreign}, **instead)
        return row
    if deletable(model):
        model._default_manager.filter(pk=row.pk)._raw_delete("default")
    row.pk, row._state.adding = None, True
    setattr(row, field.name, foreign)
    if way == BULK:
        return model._default_manager.bulk_create([row])[0]
    row.save(force_insert=True)
    return row


def deletable(model):
    """Return whether a row can make place for its copy; append-only rows are added beside."""
    return not any(
        trigger.event == "DELETE" and trigger.model == model._meta.label for trigger in triggers.wanted()
    )


@pytest.mark.parametrize("way", [SWAP, INSERT, BULK])
@pytest.mark.parametrize(("model", "field"), references())
def test_no_reference_crosses_a_companys_border(model, field, way):
    with pytest.raises(IntegrityError, match=BORDER), transaction.atomic():
        point_abroad(model, field, way)

    crossing = model._default_manager.exclude(**{f"{field.name}__company": models.F("company")})
    assert not crossing.filter(**{f"{field.name}__isnull": False}).exists()


@pytest.mark.parametrize(("model", "field"), references())
def test_without_the_triggers_every_one_of_them_would_cross(model, field):
    """The negative control: the same swap is accepted once the triggers are down."""
    with triggers.lifted():
        row = point_abroad(model, field, SWAP)

    row.refresh_from_db()
    assert getattr(row, field.name).company_id != row.company_id


@pytest.mark.parametrize("model", triggers.owned_models(), ids=lambda model: model.__name__)
def test_no_row_of_any_table_changes_its_company(model):
    row = a_row(model, CompanyFactory())
    home = row.company_id

    with (
        pytest.raises(IntegrityError, match=STAYS),
        transaction.atomic(),
    ):
        model._default_manager.filter(pk=row.pk).update(company=CompanyFactory())

    row.refresh_from_db()
    assert row.company_id == home
