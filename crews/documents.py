"""On paper: the crew's sheet, and the builder's list of what lies open. To take along: crews' days, costs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from crews.convert.kept import sheet_of_plan
from crews.dayplan.strip import draw_strip
from crews.models import Assignment, DayPlan
from crews.selectors.cost_pages import costs_table, house_costs_table
from crews.selectors.costs import CostedHouse
from crews.selectors.covering import CoverPage
from crews.selectors.days import crew_days_from
from materials.documents import table_file
from projects.calendars import CALENDAR, Entry, Hours, calendar_of
from projects.jobs import Document
from projects.models import Company, Project
from projects.pdf import render_pdf
from projects.printing import code_for


def sheet_pdf(plan: DayPlan) -> Document:
    """Return the PDF of a planned day. Raises PdfUnavailable."""
    sheet = sheet_of_plan(plan)
    context = {
        "sheet": sheet,
        "strip": draw_strip(sheet) if sheet.visits else None,
        "day": plan.date,
        "made_at": plan.made_at,
        "company": plan.company,
        "code": code_for("sheet", plan.crew_id, plan.date),
    }
    content = render_pdf("documents/crew_sheet.html", context, plan.company.paper)
    return Document(name=f"{sheet.crew.lower()}-{sheet.day}.pdf", content=content)


def crew_days_calendar(company: Company, *, since: date, at: datetime) -> Document:
    """Return the crews' days from `since` on as a calendar, by the company's clock, made at `at`."""
    entries = tuple(_crew_day(company, sent) for sent in crew_days_from(company, since))
    content = calendar_of(f"Crew days of {company.name}", entries, at=at)
    return Document("crew-days.ics", content, CALENDAR)


def costs_file(houses: Sequence[CostedHouse], form: str) -> Document:
    """Return what houses are planned to cost as a table, in a form of `materials.documents.TABLES`."""
    return table_file(costs_table(houses), "costs", form)


def house_costs_file(costed: CostedHouse, form: str) -> Document:
    """Return what a house's openings are planned to cost as a table."""
    return table_file(house_costs_table(costed), f"costs-{costed.house.code}", form)


def _crew_day(company: Company, sent: Sequence[Assignment]) -> Entry:
    crew, day = sent[0].crew, sent[0].date
    places = [f"{row.elevation.house.code} {row.elevation.name}" for row in sent]
    names = dict.fromkeys(f"{row.elevation.house.name}, {row.elevation.house.project.name}" for row in sent)
    return Entry(
        key=f"crew-{crew.pk}-{day.isoformat()}.{company.code}",
        title=f"{crew.code}: {', then '.join(places)}",
        day=day,
        where="; ".join(names),
        told=f"{crew.name}. The crew sheet has the hours of each step.",
        hours=Hours(crew.day_start_min, crew.day_end_min, company.time_zone),
    )


def cover_list_pdf(project: Project, page: CoverPage) -> Document:
    """Return a project's list of what lies open. Raises PdfUnavailable."""
    context = {"project": project, "page": page, "company": project.company}
    content = render_pdf("documents/cover_list.html", context, project.company.paper)
    return Document(name=f"cover-by-{project.code.lower()}-{page.today.isoformat()}.pdf", content=content)
