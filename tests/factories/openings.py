"""Openings and schedules for tests."""

from __future__ import annotations

import hashlib

import factory

from openings.models import Opening, ScheduleImport
from tests.factories.houses import ElevationFactory, HouseFactory

INCH = 25_400_000
SCHEDULE = b"elevation,mark,unit_width,unit_height\nFront,W1,36,60\n"


class OpeningFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Opening

    house = factory.SubFactory(HouseFactory)
    company = factory.SelfAttribute("house.company")
    elevation = factory.SubFactory(ElevationFactory, house=factory.SelfAttribute("..house"))
    mark = factory.Sequence(lambda number: f"W{number}")
    unit_width_nm = 36 * INCH
    unit_height_nm = 60 * INCH
    ro_width_nm = 36 * INCH + INCH // 2
    ro_height_nm = 60 * INCH + INCH // 2


class ScheduleFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = ScheduleImport

    house = factory.SubFactory(HouseFactory)
    company = factory.SelfAttribute("house.company")
    file_name = "lot.csv"
    content = SCHEDULE
    content_hash = hashlib.sha256(SCHEDULE).hexdigest()
