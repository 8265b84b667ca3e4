"""The firms that the browser visits: the demo with one of everything an address names, and an empty one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from django.core.management import call_command
from django.utils import timezone

from config.demo.files import table
from crews.models import Assignment, Crew, CrewMember
from materials.models import CutList, CutRoll, InstructionSheet, Lot, PurchaseOrder, SpliceRule, Supplier
from openings import services as openings_services
from openings.models import Opening, ScheduleImport, WindowEntry, WindowPhoto
from projects import services as projects_services
from projects import tasks
from projects.models import Company, Elevation, House, Job, Membership, Project, Role
from tests.factories import people

SCHEDULES = Path(__file__).resolve().parents[2] / "config" / "demo" / "schedules"
BAD_ROWS = SCHEDULES / "to-fix" / "pm-15-bad-rows.csv"
CODE = "QUILLMOOR"
PAIR = {"one": "rubberised-asphalt", "other": "fibreglass-fin"}  # nobody answers for these on WL
Find = Callable[[], Any]


@dataclass
class Site:
    """A company with one person per role, and how what addresses name is found: things, days, words."""

    company: Company
    people: dict[str, Membership]
    things: dict[str, Find] = field(default_factory=dict)
    days: dict[str, date | str] = field(default_factory=dict)


def this_monday() -> date:
    """Return the Monday of the week where the demo's company is, so that it has something for today."""
    today = timezone.localdate(timezone=ZoneInfo(table("company.toml")["company"]["time_zone"]))
    return today - timedelta(days=today.weekday())


def load_demo(monday: date | None = None) -> Site:
    """Load the demo from `monday` on, next week's without it, with what only people's work brings."""
    call_command("demo", "load", *([f"--monday={monday}"] if monday else []), verbosity=0)
    site = demo()
    _send_a_schedule_with_bad_rows(site.people[Role.MANAGER])
    return site


def demo() -> Site:
    """Return the demo's company as it stands in the database."""
    company = Company.objects.get(code=CODE)
    members = Membership.objects.filter(company=company, active=True).select_related("user").order_by("pk")
    cast = {role.value: members.filter(role=role).first() for role in Role}
    site = Site(company, {role: person for role, person in cast.items() if person is not None})
    site.things = _things(company)
    site.days = {"day": _first_day(company), **PAIR}
    return site


def make_sheets(company: Company, crew: Crew | None = None) -> None:
    """Make the crew sheets that were asked for, or those of one crew, as a worker would."""
    asked = Job.objects.filter(company=company, kind__contains="sheet", state=Job.State.QUEUED)
    for job in asked if crew is None else asked.filter(arguments__crew=crew.pk):
        tasks.run_job(job.pk)


def empty() -> Site:
    """Return a company founded this minute: its people, and nothing else."""
    company = people.harrow()
    cast = (people.odalys(company), people.dana(company), people.ferris(company), people.juno(company))
    return Site(company, {person.role: person for person in cast}, days={"day": this_monday()})


def _things(company: Company) -> dict[str, Find]:
    house = House.objects.get(company=company, code="PM-11")
    return {
        "project": lambda: house.project,
        "house": lambda: house,
        "elevation": lambda: Elevation.objects.get(house=house, name="Front"),
        "opening": lambda: Opening.objects.filter(house=house).earliest("pk"),
        "window_entry": lambda: WindowEntry.objects.filter(company=company).earliest("pk"),
        "window_photo": lambda: WindowPhoto.objects.filter(company=company).earliest("pk"),
        "person": lambda: Membership.objects.filter(company=company, role=Role.CREW).earliest("pk"),
        "schedule": lambda: ScheduleImport.objects.get(company=company, file_name=BAD_ROWS.name),
        "order": lambda: PurchaseOrder.objects.filter(company=company, issued_at=None).earliest("pk"),
        "issued": lambda: PurchaseOrder.objects.filter(company=company, number__isnull=False).earliest("pk"),
        "splice": lambda: SpliceRule.objects.filter(company=company).earliest("pk"),
        "wanted": lambda: PurchaseOrder.objects.filter(company=company, number__isnull=False).earliest("pk"),
        "supplier": lambda: Supplier.objects.filter(company=company).earliest("pk"),
        "lot": lambda: Lot.objects.filter(company=company).earliest("pk"),
        "cut_list": lambda: CutList.objects.filter(company=company).earliest("pk"),
        "roll": lambda: CutRoll.objects.filter(company=company, lot__isnull=False).earliest("pk"),
        "judged": lambda: Project.objects.get(company=company, code="WL"),
        "instruction": lambda: InstructionSheet.objects.filter(company=company).earliest("pk"),
        "job": lambda: Job.objects.filter(company=company, kind="order-pdf").earliest("pk"),
        "crew": lambda: Crew.objects.filter(company=company).earliest("pk"),
        "member": lambda: CrewMember.objects.filter(company=company).earliest("pk"),
        "assignment": lambda: Assignment.objects.filter(company=company).earliest("pk"),
    }


def _first_day(company: Company) -> date:
    return Assignment.objects.filter(company=company).earliest("date").date


def _send_a_schedule_with_bad_rows(by: Membership) -> None:
    project = Project.objects.get(company=by.company, code="PM")
    house = projects_services.create_house(by=by, project=project, code="PM-15", name="Lot 15")
    openings_services.start_import(by=by, house=house, file_name=BAD_ROWS.name, content=BAD_ROWS.read_bytes())
