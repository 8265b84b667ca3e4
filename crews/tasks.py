"""The background work of this app: a crew's sheet, the evening's round of them, the builder's list."""

from __future__ import annotations

import logging
from datetime import date

from celery import shared_task
from django.utils import timezone

from crews import services
from crews.documents import cover_list_pdf, sheet_pdf
from crews.errors import DayChanged
from crews.models import Crew
from crews.selectors.covering import cover_page
from crews.services.covering import COVER_KIND
from crews.services.evening import request_due_sheets
from crews.services.planning import SHEET_KIND
from projects import jobs
from projects.actors import CommandLine
from projects.models import Project
from projects.printing import printed_hash
from projects.selectors import row_of

log = logging.getLogger("lapwise.crews")


@jobs.kind(SHEET_KIND)
def make_sheet(run: jobs.Run) -> jobs.Document:
    """Plan the day of the crew with the id `crew` and draw its sheet."""
    company = run.job.company
    crew = row_of(Crew, company, run.arguments["crew"])
    run.tell(10, f"Planning the day of {crew.code}")
    plan = services.plan_day(by=CommandLine(company), crew=crew, day=date.fromisoformat(run.arguments["day"]))
    if printed_hash(company, plan.input_hash) != run.job.input_hash:
        raise DayChanged
    run.tell(60, f"Drawing the sheet of {crew.code}")
    return sheet_pdf(plan)


@jobs.kind(COVER_KIND)
def draw_cover_list(run: jobs.Run) -> jobs.Document:
    """Draw the list of what lies open on the project with the id `project`."""
    project = row_of(Project, run.job.company, run.arguments["project"])
    run.tell(30, "Drawing the list")
    return cover_list_pdf(project, cover_page(run.job.company, project=project))


@shared_task(name="crews.request_due_sheets")
def ask_for_due_sheets() -> None:
    """Ask for today's sheets and, from the company's hour on, tomorrow's; asking twice makes none twice."""
    asked = request_due_sheets(timezone.now())
    if asked:
        log.info("asked for %s crew sheets", asked)
