"""What two people may edit at once, by kind: how a row is made, how it is saved, and its version."""

from __future__ import annotations

import zlib
from dataclasses import replace
from datetime import date, timedelta

from crews import services as crews
from crews.selectors.costs import rentals_version
from crews.selectors.weather import days_shown, weather_version
from materials import services as materials
from materials.selectors.needs import days_version, faces_with_days
from openings import services as openings
from openings.convert import opening_input
from projects import services as projects
from projects.models import Role
from projects.quantities.money import Money
from tests.factories.crews import CrewFactory, CrewMemberFactory, fine_day
from tests.factories.houses import ElevationFactory, HouseFactory, ProjectFactory
from tests.factories.openings import OpeningFactory
from tests.factories.people import MembershipFactory

TOMORROW = date(2026, 6, 9)


def fresh(row):
    return type(row)._default_manager.get(pk=row.pk)


def _opening(by, row, version, text):
    value = replace(opening_input(row), note=text)
    return openings.edit_opening(by=by, opening=row, version=version, value=value)


def _role(by, row, version, text):
    role = Role.FOREMAN if len(text) % 2 else Role.CREW
    return projects.change_role(by=by, membership=row, version=version, role=role)


def _number(text):
    """A number that differs where the text does."""
    return zlib.crc32(text.encode()) % 9_000


def _wage(by, row, version, text):
    wage = Money(100 + _number(text))
    return crews.set_wage(by=by, member=row, wage=wage, burden_percent=30, version=version)


def _rents(by, row, version, text):
    per_day = {"ladder": Money(_number(text)), "lift": Money(150_00)}
    return crews.set_rentals(by=by, version=version, per_day=per_day, source=text)


def _weather(by, row, version, text):
    quarters = {
        name: crews.QuarterEntry(temp_tenth_c=_number(text) % 400, rh_percent=1 + _number(text) % 99)
        for name in crews.QUARTERS
    }
    return crews.set_forecast(by=by, place="Alder Row", day=TOMORROW, quarters=quarters, version=version)


def _days(by, row, version, text):
    # a day that is taken away and set again is not the same one
    day = None if text.endswith("x") else TOMORROW + timedelta(days=_number(text))
    days = {face.elevation: day for face in faces_with_days(row)}
    return materials.set_days_of_house(by=by, house=row, version=version, days=days)


def _weather_place(company):
    fine_day(company, day=TOMORROW)
    return ProjectFactory(company=company, weather_place="Alder Row")


KINDS = {
    "project": (
        lambda company: ProjectFactory(company=company, code="ALDER"),
        lambda by, row, version, text: projects.edit_project(
            by=by, project=row, version=version, code="ALDER", name=text, builder="Teasel Homes"
        ),
        "name",
    ),
    "house": (
        lambda company: HouseFactory(project__company=company, code="LOT-1"),
        lambda by, row, version, text: projects.edit_house(
            by=by, house=row, version=version, code="LOT-1", name=text
        ),
        "name",
    ),
    "elevation": (
        lambda company: ElevationFactory(house__project__company=company),
        lambda by, row, version, text: projects.edit_elevation(
            by=by, elevation=row, version=version, name=text, access="ladder"
        ),
        "name",
    ),
    "opening": (lambda company: OpeningFactory(house__project__company=company), _opening, "note"),
    "crew": (
        lambda company: CrewFactory(company=company, code="RED"),
        lambda by, row, version, text: crews.edit_crew(
            by=by, crew=row, version=version, code="RED", name=text
        ),
        "name",
    ),
    "crew member": (
        lambda company: CrewMemberFactory(crew__company=company),
        lambda by, row, version, text: crews.edit_member(
            by=by, member=row, version=version, name=text, grade="lead"
        ),
        "name",
    ),
    "company": (
        lambda company: company,
        lambda by, row, version, text: projects.edit_company(
            by=by, version=version, name=text, time_zone="UTC", sheets_hour=17
        ),
        "name",
    ),
    "membership": (lambda company: MembershipFactory(company=company, role=Role.MANAGER), _role, "role"),
    "wage": (lambda company: CrewMemberFactory(crew__company=company), _wage, "wage_cents"),
    "rents": (lambda company: company, _rents, ""),
    "weather": (_weather_place, _weather, ""),
    "days of need": (lambda company: ElevationFactory(house__project__company=company).house, _days, ""),
}
# what several rows say together
VERSIONS = {
    "rents": rentals_version,
    "weather": lambda row: weather_version(
        row.company, days_shown(row.company, ["Alder Row"], [TOMORROW])["Alder Row", TOMORROW]
    ),
    "days of need": lambda row: days_version(row.company, faces_with_days(row)),
}


def version_now(kind, row):
    return VERSIONS.get(kind, lambda row: fresh(row).version)(row)
