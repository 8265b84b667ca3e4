"""R4, I14 in full: 1,000 two-way and 100 eight-way races on PostgreSQL, 200 on SQLite; 8 x 100 numbers."""

from __future__ import annotations

import pytest

from tests.materials.orders.races import draft_both, number_many, press_both, press_eight_times

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.mark.production
def test_a_thousand_times_two_managers_press_at_once(web, site, otto):
    press_both(web, site, otto, rounds=900)


@pytest.mark.production
def test_a_hundred_times_two_managers_draft_at_once(web, site, otto):
    draft_both(web, site, otto, rounds=100)


@pytest.mark.production
def test_a_hundred_times_one_form_is_pressed_eight_times(web, site):
    press_eight_times(web, site, rounds=100)


@pytest.mark.embedded
def test_two_hundred_times_two_managers_press_at_once(web, site, otto):
    press_both(web, site, otto, rounds=200)


def test_eight_hundred_orders_are_numbered_in_a_row(manager):
    number_many(manager, each=100)
