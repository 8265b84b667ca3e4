"""Of two who count the same truck at once one counts; on both databases."""

from __future__ import annotations

import threading

import pytest
from django.db import IntegrityError, connection, transaction

from openings.errors import WindowNotSo
from openings.models import WindowRecord
from projects import triggers
from tests.materials.orders.test_at_once import all_at_once
from tests.openings.windows.building import accepted, came, key, opening, states

pytestmark = pytest.mark.django_db(transaction=True)
FRONT = ("101", "102", "103")
INDEX = "window_record_in_a_row"


def test_of_two_who_count_at_once_the_second_is_told(foreman, manager, house):
    given = all_at_once(lambda: came(foreman, house, *FRONT), lambda: came(manager, house, *FRONT))

    assert sum(isinstance(each, WindowNotSo) for each in given) == 1
    assert WindowRecord.objects.count() == 3


def test_of_two_whose_ticks_overlap_one_counts_all_of_hers_and_the_other_nothing(foreman, manager, house):
    given = all_at_once(
        lambda: came(foreman, house, "101", "102"), lambda: came(manager, house, "102", "103")
    )

    assert sum(isinstance(each, WindowNotSo) for each in given) == 1
    assert sorted(states(house)[mark] for mark in FRONT) == ["here", "here", "not here yet"]


def test_one_form_sent_six_times_at_once_counts_once(foreman, house):
    form = key()

    given = all_at_once(*[lambda: came(foreman, house, *FRONT, form=form)] * 6)

    assert len({entry.pk for entry in given}) == 1
    assert WindowRecord.objects.count() == 3


def test_four_who_accept_at_once_accept_once(foreman, house):
    came(foreman, house, *FRONT)

    given = all_at_once(*[lambda: accepted(foreman, house, *FRONT)] * 4)

    assert sum(isinstance(each, WindowNotSo) for each in given) == 3
    assert WindowRecord.objects.filter(kind="accepted").count() == 3


def counted_carelessly(entry, row):
    """Return how many records two write, who look first and write later without a lock."""
    looked = threading.Barrier(2)

    def careless():
        number = WindowRecord.objects.filter(opening=row).count() + 1
        looked.wait()
        try:
            with transaction.atomic():
                WindowRecord.objects.create(
                    company=row.company,
                    entry=entry,
                    opening=row,
                    number=number,
                    kind="counted",
                    width_nm=row.unit_width_nm,
                    height_nm=row.unit_height_nm,
                )
        except IntegrityError:
            pass
        finally:
            connection.close()

    all_at_once(careless, careless)
    return WindowRecord.objects.filter(opening=row).count()


def test_look_then_write_writes_once_under_the_index(foreman, house):
    entry = came(foreman, house, "101")

    assert counted_carelessly(entry, opening(house, "102")) == 1


def test_without_index_and_trigger_the_same_race_writes_twice(foreman, house):
    """The negative control."""
    entry, row = came(foreman, house, "101"), opening(house, "102")
    every = WindowRecord._meta.constraints
    (constraint,) = [each for each in every if each.name == INDEX]
    triggers.remove()
    # SQLite makes the table anew from what the model says
    WindowRecord._meta.constraints = [each for each in every if each is not constraint]
    with connection.schema_editor() as editor:
        editor.remove_constraint(WindowRecord, constraint)
    try:
        written = counted_carelessly(entry, row)
        WindowRecord.objects.filter(opening=row).delete()
    finally:
        WindowRecord._meta.constraints = every
        with connection.schema_editor() as editor:
            editor.add_constraint(WindowRecord, constraint)
        triggers.install()

    assert written == 2
