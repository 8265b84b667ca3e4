"""R4, R5, A1: many at the same moment on the real web server, three processes of it; never two orders.

A short run: the full counts are in `tests/deep`. The control shows that it is the index that holds.
"""

from __future__ import annotations

import threading

import pytest
from django.db import IntegrityError, connection

from materials.models import Coverage, OrderLine
from tests.factories.orders import DraftFactory
from tests.materials.orders.races import draft_both, press_both, press_eight_times
from tests.materials.orders.web import at_once

pytestmark = pytest.mark.django_db(transaction=True)
ROUNDS = 6
INDEX = "demand_ordered_once"


def test_one_form_pressed_eight_times_at_once_is_one_order(web, site):
    press_eight_times(web, site, rounds=ROUNDS)


def test_of_two_managers_who_press_at_once_one_orders_and_one_reads_who(web, site, otto):
    press_both(web, site, otto, rounds=ROUNDS)


def test_of_two_managers_who_draft_at_once_one_drafts(web, site, otto):
    draft_both(web, site, otto, rounds=ROUNDS)


def covered_twice(site):
    """Return how many cover the same demand after two who look first and write later, without a lock."""
    opening, looked = site.opening("W1"), threading.Barrier(2)
    lines = [OrderLine.objects.get(order=DraftFactory(company=site.by.company)) for _ in range(2)]

    def careless(line):
        is_open = not Coverage.objects.filter(opening=opening, material=line.material).exists()
        looked.wait()
        try:
            if is_open:
                Coverage.objects.create(
                    company=site.by.company, line=line, opening=opening, material=line.material, quantity=1
                )
        except IntegrityError:
            pass
        finally:
            connection.close()

    at_once([lambda line=line: careless(line) for line in lines])
    return Coverage.objects.filter(opening=opening, material=lines[0].material).count()


def test_check_then_insert_orders_once_under_the_index(site):
    for _ in range(ROUNDS):
        assert covered_twice(site) == 1
        Coverage.objects.all().delete()


def test_without_the_index_the_same_race_orders_twice(site):
    """The negative control."""
    (constraint,) = [each for each in Coverage._meta.constraints if each.name == INDEX]
    with connection.schema_editor() as editor:
        editor.remove_constraint(Coverage, constraint)
    try:
        doubles = 0
        for _ in range(ROUNDS):
            doubles += covered_twice(site) == 2
            Coverage.objects.all().delete()
    finally:
        with connection.schema_editor() as editor:
            editor.add_constraint(Coverage, constraint)

    assert doubles >= ROUNDS / 2
