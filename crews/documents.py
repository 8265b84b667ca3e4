"""The crew's sheet on paper."""

from __future__ import annotations

from crews.convert.kept import sheet_of_plan
from crews.dayplan.strip import draw_strip
from crews.models import DayPlan
from projects.jobs import Document
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
