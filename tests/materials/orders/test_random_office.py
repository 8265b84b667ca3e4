"""I1, I2, I5, I7, I8, I14 after every step of two managers who do things at random.

A short run: 4 x 30 steps; the full one is in `tests/deep`. What was answered once is answered again, and
`verify_invariants` finds nothing.
"""

from __future__ import annotations

import pytest

from tests.materials.orders.random_office import walk

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("seed", range(4))
def test_nothing_that_two_managers_do_breaks_an_invariant(site, seed):
    walk(site, seed, steps=30)
