"""Openings and schedules for tests."""

from __future__ import annotations

import hashlib
from itertools import count

import factory

from openings import services
from openings.models import Opening, ScheduleImport
from openings.selectors import live_openings
from openings.selectors.windows import windows_shown
from tests.factories.houses import ElevationFactory, HouseFactory

_forms = count(1)
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


def count_all_windows(by, house, *marks):
    """Count these marks, or all that are awaited, with the scheduled size on the label."""
    rows = [each for each in windows_of(house) if each.standing.state == "not here yet"]
    sizes = {each.opening.pk: each.scheduled for each in rows if not marks or each.opening.mark in marks}
    return services.count_windows(by=by, house=house, sizes=sizes, key=f"test-{next(_forms)}")


def accept_all_windows(by, house, *marks):
    """Count and accept the windows of these marks, or of all openings."""
    counted = count_all_windows(by, house, *marks)
    openings = counted.records.values_list("opening", flat=True)
    return services.accept_windows(by=by, house=house, openings=openings, key=f"test-{next(_forms)}")


def windows_of(house):
    """Return where the house's windows stand."""
    return windows_shown(house.company, live_openings(house.company).filter(house=house))
