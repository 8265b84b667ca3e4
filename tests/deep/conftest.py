"""What stands in this folder is deep: it is left out unless it is asked for."""

from __future__ import annotations

import pytest

from tests.materials.orders.conftest import otto, site, web

__all__ = ["otto", "site", "web"]
HERE = "tests/deep/"


def pytest_collection_modifyitems(items):
    for item in items:
        if item.nodeid.startswith(HERE):
            item.add_marker(pytest.mark.deep)
