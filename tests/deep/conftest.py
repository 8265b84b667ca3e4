"""What stands in this folder is deep: it is left out unless it is asked for with `-m deep`."""

from __future__ import annotations

import pytest

from tests.materials.orders.conftest import otto, site, web

__all__ = ["otto", "site", "web"]
HERE = "tests/deep/"


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config, items):
    ours = [item for item in items if item.nodeid.startswith(HERE)]
    for item in ours:
        item.add_marker(pytest.mark.deep)
    if "deep" not in (config.option.markexpr or ""):
        config.hook.pytest_deselected(items=ours)
        items[:] = [item for item in items if item not in ours]
