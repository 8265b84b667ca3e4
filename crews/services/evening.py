"""Asks for the sheets that are due: today's, and from the company's own hour on tomorrow's."""

from __future__ import annotations

import logging
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from crews.errors import NobodyInCrew, NothingAssigned
from crews.models import Crew
from crews.selectors.days import crew_days, day_inputs
from crews.services.planning import SHEET_KIND, request_sheet
from projects import jobs
from projects.actors import CommandLine
from projects.models import Company
from projects.printing import printed_hash

ONE_DAY = timedelta(days=1)
log = logging.getLogger("lapwise.crews")


def due_days(company: Company, now: datetime) -> tuple[date, date]:
    """Return the first and last day whose sheets are due at `now`.

    Days are the calendar's at the company, so a night that the clocks make shorter or longer skips none.
    """
    here = now.astimezone(ZoneInfo(company.time_zone))
    today = here.date()
    return today, today + ONE_DAY if here.hour >= company.sheets_hour else today


def request_due_sheets(now: datetime) -> int:
    """Ask for every sheet that is due and not there as things stand; return how many were asked for.

    A sheet that failed is left to a person, so that one which cannot be made is not tried all night.
    """
    asked = 0
    for company in Company.objects.order_by("pk"):
        for crew, day in crew_days(company, *due_days(company, now)):
            asked += _ask(company, crew, day)
    return asked


def _ask(company: Company, crew: Crew, day: date) -> int:
    inputs = day_inputs(company, crew, day)
    made_from = printed_hash(company, inputs.input_hash)
    if jobs.latest(company=company, kind=SHEET_KIND, input_hash=made_from) is not None:
        return 0
    try:
        request_sheet(by=CommandLine(company), crew=crew, day=day)
    except (NobodyInCrew, NothingAssigned) as reason:
        log.info("no sheet for crew %s on %s: %s", crew.code, day, reason.code)
        return 0
    return 1
