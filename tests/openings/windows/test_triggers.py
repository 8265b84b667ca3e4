"""What is written down about windows stays, and what nobody counted is not accepted: by the database."""

from __future__ import annotations

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction

from openings import services
from openings.models import WindowEntry, WindowPhoto, WindowRecord
from projects import triggers
from tests.factories.crews import house_with
from tests.factories.rows import a_row
from tests.openings.windows.building import accepted, came, opening

pytestmark = pytest.mark.django_db
TEXTS = {WindowEntry: {"key": "other"}, WindowRecord: {"note": "other"}, WindowPhoto: {"content": b"other"}}


@pytest.mark.parametrize("model", TEXTS, ids=lambda model: model.__name__)
@pytest.mark.parametrize("write", ["update", "delete"])
def test_what_is_written_down_stays(company, model, write):
    a_row(model, company)
    rows = model.objects.of(company)
    before = list(rows.values())

    with pytest.raises(IntegrityError), transaction.atomic():
        rows.update(**TEXTS[model]) if write == "update" else rows._raw_delete("default")

    assert list(rows.values()) == before


@pytest.mark.parametrize("model", TEXTS, ids=lambda model: model.__name__)
def test_without_the_triggers_it_would_change(company, model):
    """The negative control."""
    a_row(model, company)

    connection.check_constraints()
    with triggers.lifted():
        changed = model.objects.of(company).update(**TEXTS[model])

    assert changed


def record(entry, row, **told):
    told = {"kind": "accepted", "width_nm": row.unit_width_nm, "height_nm": row.unit_height_nm, **told}
    number = 1 + WindowRecord.objects.filter(opening=row).count()
    return WindowRecord.objects.create(
        company=row.company, entry=entry, opening=row, **{"number": number, **told}
    )


def forbidden(foreman, house):
    """Return rows that no database of ours takes, by what is wrong with each."""
    entry = came(foreman, house, "101", "102", "103")
    elsewhere = opening(house_with(house.company, accepted=False), "W1")
    first = WindowRecord.objects.get(opening=opening(house, "103"))
    taken_back = {"kind": "taken back", "width_nm": None, "height_nm": None, "takes_back": first}
    return {
        "accepted, never counted": lambda: record(entry, opening(house, "201")),
        "accepted in another size": lambda: record(entry, opening(house, "101"), width_nm=1),
        "of another house": lambda: record(entry, elsewhere, kind="counted"),
        "out of its order": lambda: record(entry, opening(house, "101"), number=7),
        "takes back another window's": lambda: record(entry, opening(house, "101"), **taken_back),
    }


WRONG = (
    "accepted, never counted", "accepted in another size", "of another house", "out of its order",
    "takes back another window's",
)  # fmt: skip


@pytest.mark.parametrize("wrong", WRONG)
def test_the_database_refuses_what_can_t_be(foreman, house, wrong):
    write = forbidden(foreman, house)[wrong]
    before = WindowRecord.objects.count()

    with pytest.raises(IntegrityError), transaction.atomic():
        write()

    assert WindowRecord.objects.count() == before


@pytest.mark.parametrize("wrong", WRONG)
def test_without_the_triggers_it_would_pass(foreman, house, wrong):
    """The negative control."""
    write = forbidden(foreman, house)[wrong]
    before = WindowRecord.objects.count()

    connection.check_constraints()
    with triggers.lifted():
        write()
        connection.check_constraints()

    assert WindowRecord.objects.count() == before + 1


def test_a_count_that_was_taken_back_does_not_carry_an_acceptance(foreman, house):
    entry = came(foreman, house, "101")
    services.take_back(by=foreman, entry=entry)

    with pytest.raises(IntegrityError), transaction.atomic():
        record(entry, opening(house, "101"))


def test_after_the_schedule_changed_the_old_size_is_not_accepted(foreman, house):
    entry = came(foreman, house, "101")
    row = opening(house, "101")
    type(row).objects.filter(pk=row.pk).update(unit_width_nm=row.unit_width_nm - 25_400_000)

    with pytest.raises(IntegrityError), transaction.atomic():
        record(entry, row)


def test_what_was_counted_and_accepted_passes(foreman, house):
    came(foreman, house, "101")

    assert accepted(foreman, house, "101").records.count() == 1


@pytest.mark.parametrize(
    "told",
    [
        {"kind": "lost", "width_nm": None, "height_nm": None},
        {"kind": "counted", "width_nm": None},
        {"kind": "counted", "width_nm": 0},
        {"kind": "damaged", "width_nm": None, "height_nm": None},
        {"kind": "damaged", "claim_by": "2026-06-11"},
        {"kind": "taken back", "width_nm": None, "height_nm": None},
        {"kind": "sent back", "width_nm": None, "height_nm": None, "claim_by": "2026-06-11"},
        {"kind": "sent back", "width_nm": None, "height_nm": None, "note": "x" * 201},
    ],
)
def test_a_record_that_says_half_of_it_is_refused(foreman, house, told):
    entry = came(foreman, house, "101")

    with pytest.raises(DatabaseError), transaction.atomic():
        record(entry, opening(house, "101"), **told)

    assert WindowRecord.objects.count() == 1
