"""The house of two windows, wanted in a week to come."""

from __future__ import annotations

import pytest

from projects.models import Role
from tests.factories.people import MembershipFactory, UserFactory
from tests.materials.orders.building import Site, build
from tests.materials.orders.web import serving


@pytest.fixture
def site(manager) -> Site:
    return build(manager)


@pytest.fixture
def web(site, tmp_path):
    with serving(str(tmp_path)) as address:
        yield address


@pytest.fixture
def otto(site):
    return MembershipFactory(company=site.by.company, user=UserFactory(name="Otto Brandt"), role=Role.OWNER)
