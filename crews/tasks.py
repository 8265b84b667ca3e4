"""The background work of this app: a crew's sheet, and the evening's round of them."""

from __future__ import annotations

import logging
from datetime import date

from celery import shared_task
from django.utils import timezone

from crews import services
from crews.documents import sheet_pdf
from crews.errors import DayChanged
from crews.models import Crew
from crews.services.evening import request_due_sheets
from crews.services.planning import SHEET_KIND
from projects import jobs
from projects.actors import CommandLine
from projects.selectors import row_of

log = logging.getLogger("lapwise.crews")


@jobs.kind(SHEET_KIND)
def make_sheet(run: jobs.Run) -> jobs.Document:
    """Plan the day of the crew with the id `crew` and draw its sheet."""
    company = run.job.company
    crew = row_of(Crew, company, run.arguments["crew"])
    run.tell(10, f"Planning the day of {crew.code}")
    plan = services.plan_day(by=CommandLine(company), crew=crew, day=date.fromisoformat(run.arguments["day"]))
    if plan.input_hash != run.job.input_hash:
        raise DayChanged
    run.tell(60, f"Drawing the sheet of {crew.code}")
    return sheet_pdf(plan)


@shared_task(name="crews.request_due_sheets")
def ask_for_due_sheets() -> None:
    """Ask for today's sheets and, from the company's hour on, tomorrow's; asking twice makes none twice."""
    asked = request_due_sheets(timezone.now())
    if asked:
        log.info("asked for %s crew sheets", asked)
