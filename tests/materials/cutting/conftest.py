"""The house of two windows, as for orders."""

from __future__ import annotations

import pytest

from tests.materials.orders.building import Site, build


@pytest.fixture
def site(manager) -> Site:
    return build(manager)
