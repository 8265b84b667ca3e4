"""I4: many who take at the same moment never take more than lies there; on both databases."""

from __future__ import annotations

import threading

import pytest
from django.db import IntegrityError, connection
from django.utils import timezone

from materials import services
from materials.errors import NotEnough
from materials.models import Movement
from projects import triggers
from tests.materials.orders.races import all_at_once
from tests.materials.stock.building import TUBE, key, shop, there, tubes
from tests.materials.stock.random_shop import four_at_once

pytestmark = pytest.mark.django_db(transaction=True)
INDEX = "movement_in_a_row"


def test_of_six_who_take_two_of_seven_three_get_them(manager):
    lot, place = tubes(manager, 7), shop(manager)

    given = all_at_once(
        *[
            lambda: services.take_from_lot(by=manager, lot=lot, place=place, kind="use", pieces=2, key=key())
            for _ in range(6)
        ]
    )

    assert sum(isinstance(each, NotEnough) for each in given) == 3
    assert there(lot, place) == 1


def test_one_form_sent_six_times_at_once_takes_once(manager):
    lot, place, form = tubes(manager, 7), shop(manager), key()

    all_at_once(
        *[lambda: services.take_from_lot(by=manager, lot=lot, place=place, kind="use", pieces=2, key=form)]
        * 6
    )

    assert there(lot, place) == 5


@pytest.mark.parametrize("seed", range(2))
def test_what_four_do_at_random_at_once_is_what_stands(site, seed):
    four_at_once(site, seed, steps=10)


def taken_carelessly(lot, place):
    """Return how much two took, who look first and write later without a lock."""
    looked = threading.Barrier(2)

    def careless():
        had = there(lot, place)
        number = Movement.objects.filter(lot=lot, place=place).count() + 1
        looked.wait()
        try:
            Movement.objects.create(
                company=lot.company,
                lot=lot,
                place=place,
                number=number,
                kind="use",
                quantity=-had * TUBE,
                balance=0,
                at=timezone.now(),
                key=key(),
            )
        except IntegrityError:
            pass
        finally:
            connection.close()

    all_at_once(careless, careless)
    return -sum(Movement.objects.filter(lot=lot, kind="use").values_list("quantity", flat=True)) // TUBE


def test_look_then_take_takes_once_under_the_index(manager):
    assert taken_carelessly(tubes(manager, 5), shop(manager)) == 5


def test_without_index_and_trigger_the_same_race_takes_twice(manager):
    """The negative control."""
    lot, place = tubes(manager, 5), shop(manager)
    every = Movement._meta.constraints
    (constraint,) = [each for each in every if each.name == INDEX]
    triggers.remove()
    # SQLite makes the table anew from what the model says
    Movement._meta.constraints = [each for each in every if each is not constraint]
    with connection.schema_editor() as editor:
        editor.remove_constraint(Movement, constraint)
    try:
        taken = taken_carelessly(lot, place)
        Movement.objects.filter(kind="use").delete()
    finally:
        Movement._meta.constraints = every
        with connection.schema_editor() as editor:
            editor.add_constraint(Movement, constraint)
        triggers.install()

    assert taken == 10
