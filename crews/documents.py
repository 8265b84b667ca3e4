"""On paper: the crew's sheet, and the builder's list of what lies open."""

from __future__ import annotations

from crews.convert.kept import sheet_of_plan
from crews.dayplan.strip import draw_strip
from crews.models import DayPlan
from crews.selectors.covering import CoverPage
from projects.jobs import Document
from projects.models import Project
from projects.pdf import render_pdf


def sheet_pdf(plan: DayPlan) -> Document:
    """Return the PDF of a planned day. Raises PdfUnavailable."""
    sheet = sheet_of_plan(plan)
    context = {
        "sheet": sheet,
        "strip": draw_strip(sheet) if sheet.visits else None,
        "day": plan.date,
        "made_at": plan.made_at,
        "company": plan.company,
    }
    content = render_pdf("documents/crew_sheet.html", context)
    return Document(name=f"{sheet.crew.lower()}-{sheet.day}.pdf", content=content)


def cover_list_pdf(project: Project, page: CoverPage) -> Document:
    """Return a project's list of what lies open. Raises PdfUnavailable."""
    context = {"project": project, "page": page, "company": project.company}
    content = render_pdf("documents/cover_list.html", context)
    return Document(name=f"cover-by-{project.code.lower()}-{page.today.isoformat()}.pdf", content=content)
