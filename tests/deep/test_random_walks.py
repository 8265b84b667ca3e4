"""I1 to I5, I11, I12 in full: 200 walks of 50 steps on SQLite, 50 on PostgreSQL, by two and by four."""

from __future__ import annotations

import pytest

from tests.materials.orders.random_office import walk
from tests.materials.stock.random_shop import four_at_once

STEPS = 50


@pytest.mark.embedded
@pytest.mark.django_db
@pytest.mark.parametrize("seed", range(200))
def test_two_managers_on_sqlite(site, seed):
    walk(site, seed, steps=STEPS)


@pytest.mark.production
@pytest.mark.django_db
@pytest.mark.parametrize("seed", range(50))
def test_two_managers_on_postgresql(site, seed):
    walk(site, seed, steps=STEPS)


@pytest.mark.embedded
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("seed", range(200))
def test_four_in_one_shop_on_sqlite(site, seed):
    four_at_once(site, seed, steps=STEPS // 4)


@pytest.mark.production
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("seed", range(50))
def test_four_in_one_shop_on_postgresql(site, seed):
    four_at_once(site, seed, steps=STEPS)
