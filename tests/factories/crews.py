"""Crews with people, houses with openings, and weather, for tests."""

from __future__ import annotations

import datetime as dt

import factory

from crews import services as crew_services
from crews.models import Assignment, Crew, CrewMember
from openings import services as opening_services
from projects.actors import CommandLine
from projects.models import Elevation
from projects.services import READINESS, tick_readiness
from tests.factories.houses import HouseFactory
from tests.factories.openings import accept_all_windows
from tests.factories.people import CompanyFactory

MONDAY = dt.date(2026, 6, 8)
TUESDAY = dt.date(2026, 6, 9)
ONE_WINDOW = "Front,W1,36,60,,,"
HEADER = "elevation,mark,unit_width,unit_height,offset,sill_height,over_fin"


class CrewFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Crew

    company = factory.SubFactory(CompanyFactory)
    code = factory.Sequence(lambda number: f"T{number}")
    name = factory.LazyAttribute(lambda crew: f"Truck {crew.code}")
    breaks = [[720, 750]]


class CrewMemberFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = CrewMember

    crew = factory.SubFactory(CrewFactory)
    company = factory.SelfAttribute("crew.company")
    name = factory.Sequence(lambda number: f"Hand {number}")
    wage_cents = 2500


class AssignmentFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Assignment

    crew = factory.SubFactory(CrewFactory)
    company = factory.SelfAttribute("crew.company")
    date = MONDAY
    position = factory.Sequence(lambda number: number)


def crew_of(company, code="RED", wages=(3000, 2000)):
    """Return a crew with one person per wage, in cents an hour."""
    crew = CrewFactory(company=company, code=code)
    for number, wage in enumerate(wages, 1):
        CrewMemberFactory(crew=crew, name=f"{code} hand {number}", wage_cents=wage)
    return crew


def house_with(company, *rows, accepted=True, **house):
    """Return a house with the openings of the schedule's rows; faces ready, windows `accepted`."""
    by = CommandLine(company)
    made = HouseFactory(project__company=company, **house)
    content = "\n".join([HEADER, *(rows or (ONE_WINDOW,))]).encode()
    schedule = opening_services.start_import(by=by, house=made, file_name="lot.csv", content=content)
    opening_services.confirm_import(by=by, schedule_import=schedule)
    for face in Elevation.objects.filter(house=made):
        tick_readiness(by=by, elevation=face, ready=READINESS)
    if accepted:
        accept_all_windows(by, made)
    return made


def face_of(house, name="Front"):
    """Return an elevation of the house."""
    return Elevation.objects.select_related("house__project", "house__company", "company").get(
        house=house, name=name
    )


def fine_day(company, place="Alder Row", day=MONDAY, **changes):
    """Type in a day at 23 C and 50 %, the sheets' own conditions; `changes` are quarters that differ."""
    usual = crew_services.QuarterEntry(temp_tenth_c=230, rh_percent=50, rain=False, wind_mph=5)
    quarters = {name: changes.get(name, usual) for name in crew_services.QUARTERS}
    return crew_services.set_forecast(by=CommandLine(company), place=place, day=day, quarters=quarters)
