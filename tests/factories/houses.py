"""Projects, houses and elevations for tests."""

from __future__ import annotations

import factory

from projects.models import Elevation, House, Project
from tests.factories.people import CompanyFactory


class ProjectFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Project

    company = factory.SubFactory(CompanyFactory)
    code = factory.Sequence(lambda number: f"P-{number}")
    name = factory.Sequence(lambda number: f"Alder Row {number}")
    builder = "Teasel Homes"
    delivery_place = "12 Alder Row, lay-down by the east gate"
    weather_place = "Alder Row"


class HouseFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = House

    project = factory.SubFactory(ProjectFactory)
    company = factory.SelfAttribute("project.company")
    code = factory.Sequence(lambda number: f"LOT-{number}")
    name = factory.Sequence(lambda number: f"Lot {number}")
    plan_name = "Linden, left hand"


class ElevationFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Elevation

    house = factory.SubFactory(HouseFactory)
    company = factory.SelfAttribute("house.company")
    name = factory.Sequence(lambda number: f"Face {number}")
    walking_order = factory.Sequence(lambda number: number)
