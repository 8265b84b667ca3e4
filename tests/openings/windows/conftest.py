"""A house of four windows of 36 x 60 in on two faces, and one of 24 x 36 in."""

from __future__ import annotations

import pytest

from tests.factories.crews import house_with

ROWS = (
    "Front,101,36,60,,,",
    "Front,102,36,60,,,",
    "Front,103,36,60,,,",
    "Rear,201,36,60,,,",
    "Rear,202,24,36,,,",
)


@pytest.fixture
def house(company):
    return house_with(company, *ROWS, accepted=False)
