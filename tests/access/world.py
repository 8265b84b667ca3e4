"""The things that addresses name: one of each, of the company and of another. Every app adds its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from crews.models import WorkRecord
from materials.models import CutList, CutRoll, SpliceRule
from materials.models.splice import LEAST_LAP_NM
from materials.services import Came, receive_delivery, set_kinds
from openings.models import WindowPhoto
from projects.models import Company, Job, Membership, Role
from tests.factories import people
from tests.factories.crews import AssignmentFactory, CrewFactory, CrewMemberFactory
from tests.factories.houses import ElevationFactory, HouseFactory, ProjectFactory
from tests.factories.openings import OpeningFactory, ScheduleFactory
from tests.factories.orders import DraftFactory, SupplierFactory
from tests.factories.people import DeviceFactory, MembershipFactory
from tests.factories.rows import a_row, window_record
from tests.materials.compatibility.building import a_sheet
from tests.materials.orders.building import build, issue, sell_everything
from tests.materials.stock.building import tubes

Maker = Callable[[Company], Any]


def _job(company):
    return Job.objects.create(company=company, kind="order pdf", input_hash="0" * 64)


def _project(company):
    return ProjectFactory(company=company)


def _house(company):
    return HouseFactory(project__company=company)


def _elevation(company):
    return ElevationFactory(house__project__company=company)


def _person(company):
    return MembershipFactory(company=company, role=Role.CREW)


def _device(company):
    return DeviceFactory(user=_person(company).user)


def _opening(company):
    return OpeningFactory(house__project__company=company)


def _schedule(company):
    return ScheduleFactory(house__project__company=company)


def _window_entry(company):
    return window_record(company).entry


def _window_photo(company):
    return a_row(WindowPhoto, company)


def _order(company):
    return DraftFactory(company=company)


def _issued(company, key="form-of-the-world"):
    by = MembershipFactory(company=company)
    return issue(DraftFactory(company=company), by=by, key=key)


def _wanted(company):
    by = MembershipFactory(company=company)
    site = build(by, code="WANTED-1")
    sell_everything(by, site.supplier)
    return issue(site.draft(), by=by, key="wanted-of-the-world")


def _delivery(company):
    order, by = _issued(company, key="order-that-came"), MembershipFactory(company=company)
    return receive_delivery(by=by, order=order, came=[Came(order.lines.get().pk, good=1)], key="came")


def _supplier(company):
    return SupplierFactory(company=company)


def _lot(company):
    return tubes(MembershipFactory(company=company), 12, lot="S-131")


def _splice(company):
    return SpliceRule.objects.create(company=company, material="drip-cap", lap_nm=LEAST_LAP_NM)


def _cut_list(company):
    return a_row(CutList, company)


def _roll(company):
    return a_row(CutRoll, company)


def _judged(company):
    project = ProjectFactory(company=company)
    kinds = ["silicone", "butyl-membrane"]
    set_kinds(by=MembershipFactory(company=company), project=project, kinds=kinds)
    return project


def _instruction(company):
    return a_sheet(MembershipFactory(company=company))


def _crew(company):
    return CrewFactory(company=company)


def _work_entry(company):
    return a_row(WorkRecord, company).entry


def _member(company):
    return CrewMemberFactory(crew=_crew(company))


def _assignment(company):
    return AssignmentFactory(crew=_crew(company), elevation=_elevation(company))


MAKERS: dict[str, Maker] = {
    "project": _project,
    "house": _house,
    "elevation": _elevation,
    "person": _person,
    "device": _device,
    "job": _job,
    "opening": _opening,
    "schedule": _schedule,
    "window_entry": _window_entry,
    "window_photo": _window_photo,
    "order": _order,
    "issued": _issued,
    "wanted": _wanted,
    "delivery": _delivery,
    "lot": _lot,
    "supplier": _supplier,
    "splice": _splice,
    "cut_list": _cut_list,
    "roll": _roll,
    "judged": _judged,
    "instruction": _instruction,
    "crew": _crew,
    "work_entry": _work_entry,
    "member": _member,
    "assignment": _assignment,
}


@dataclass
class World:
    """The company with its people, and the owner of another."""

    company: Company
    people: dict[str, Membership]
    made: dict[str, Any] = field(default_factory=dict)

    def thing(self, name: str) -> Any:
        """Return the company's thing of this name, made at its first use."""
        if name not in self.made:
            self.made[name] = MAKERS[name](self.company)
        return self.made[name]


def world() -> World:
    """Return a company with one person per role."""
    company = people.harrow()
    return World(
        company=company,
        people={
            "owner": people.odalys(company),
            "manager": people.dana(company),
            "foreman": people.ferris(company),
            "crew": people.juno(company),
            "stranger": people.sable(),
        },
    )
