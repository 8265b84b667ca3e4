"""What the crew gets on paper: the cut list and its labels."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from django.template.loader import render_to_string
from django.utils import timezone

from materials.selectors.cut_pages import CutPage
from projects.jobs import Document
from projects.pdf import pdf_of


def cut_list_pdf(page: CutPage) -> Document:
    """Return the cut list, roll by roll. Raises PdfUnavailable."""
    return Document(name=f"{page.file_name}.pdf", content=pdf_of(_filled("documents/cut_list.html", page)))


def labels_pdf(page: CutPage) -> Document:
    """Return a label per strip, in cutting order. Raises PdfUnavailable."""
    name = f"{page.file_name}-labels.pdf"
    return Document(name=name, content=pdf_of(_filled("documents/labels.html", page)))


def _filled(template: str, page: CutPage) -> str:
    company = page.row.company
    with timezone.override(ZoneInfo(company.time_zone)):
        return render_to_string(template, {"page": page, "company": company})
