"""What the crew gets on paper: the cut list and its labels."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from django.utils import timezone

from materials.models import CutList
from materials.selectors.cut_pages import CutPage
from projects.jobs import Document
from projects.pdf import render_pdf
from projects.printing import Code, code_for


def cut_list_pdf(page: CutPage) -> Document:
    """Return the cut list, roll by roll. Raises PdfUnavailable."""
    return _document("documents/cut_list.html", page, f"{page.file_name}.pdf")


def labels_pdf(page: CutPage) -> Document:
    """Return a label per strip, in cutting order. Raises PdfUnavailable."""
    return _document("documents/labels.html", page, f"{page.file_name}-labels.pdf")


def _document(template: str, page: CutPage, name: str) -> Document:
    company = page.row.company
    context = {"page": page, "company": company, "code": _code_of(page.row)}
    with timezone.override(ZoneInfo(company.time_zone)):
        return Document(name=name, content=render_pdf(template, context, company.paper))


def _code_of(row: CutList) -> Code | None:
    if row.house_id:
        return code_for("cut-list-house", row.house_id)
    return code_for("cut-list-order", row.order_id) if row.order_id else code_for("cut-list-day", row.day)
